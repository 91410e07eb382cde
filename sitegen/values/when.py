"""Months, weekdays, times of day and spans of days, as a florist writes them."""

import datetime as dt
import re
from dataclasses import dataclass
from fractions import Fraction
from math import ceil

from sitegen.values.nearest import nearest
from sitegen.values.number import Unreadable, shorten

_LONGEST_WORK = 1_000_000  # minutes
MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")
WEEKDAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
FIRST_YEAR, LAST_YEAR = 2001, 2199  # far enough from the calendar's ends to count days both ways
_LONGEST_STEP = dt.timedelta(hours=18)
_TIME = re.compile(r"([0-9]{1,2}):([0-9]{2})", re.ASCII)
_DATE = re.compile(r"([0-9]{4})-([0-9]{2})-([0-9]{2})", re.ASCII)
_DAYS = re.compile(r"([0-9]{1,4}) days?( before)?", re.ASCII)
_SPAN = re.compile(r"([0-9]{1,3})(?: *- *([0-9]{1,3}))?", re.ASCII)


@dataclass(frozen=True, slots=True)
class Span:
    """At least *least* days, and at most *most* where that was said."""

    least: int
    most: int | None = None


def months(text: str) -> frozenset[int]:
    """Read `Jan`, `Apr-Oct`, `Nov-Feb` (round the new year) or several with commas, as 1 to 12."""
    return frozenset(1 + i for part in text.split(",") for i in _cycle(part.strip(), MONTHS, "month"))


def weekdays(text: str) -> frozenset[int]:
    """Read `Tue Wed`, `Mon-Fri` or several with commas, as 0 (Monday) to 6."""
    parts = re.sub(r" *- *", "-", text.replace(",", " ")).split()
    return frozenset(i for part in parts for i in _cycle(part, WEEKDAYS, "weekday"))


def _cycle(part: str, names: tuple[str, ...], kind: str) -> list[int]:
    ends = [name.strip() for name in part.split("-")]
    if len(ends) > 2:
        raise Unreadable(
            f'"{shorten(part)}" is not a {kind} or a span of two', f"write {names[3]}-{names[5]}"
        )
    first, last = _index(ends[0], names, kind), _index(ends[-1], names, kind)
    return [(first + step) % len(names) for step in range((last - first) % len(names) + 1)]


def _index(name: str, names: tuple[str, ...], kind: str) -> int:
    if name in names:
        return names.index(name)
    near = nearest(name, names)
    raise Unreadable(
        f'"{shorten(name)}" is not a {kind}',
        f'write "{near}"' if near else f"write one of {', '.join(names)}",
    )


def time(text: str) -> dt.time:
    """Read a time of day, `15:30`."""
    match = _TIME.fullmatch(text.strip())
    if not match or int(match[1]) > 23 or int(match[2]) > 59:
        raise Unreadable(f'"{shorten(text)}" is not a time of day', "write hours and minutes, such as 15:30")
    return dt.time(int(match[1]), int(match[2]))


def date(text: str) -> dt.date:
    """Read a date, `2027-06-12`; one that the calendar does not have raises `Unreadable`."""
    match = _DATE.fullmatch(text.strip())
    if not match:
        raise Unreadable(f'"{shorten(text)}" is not a date', "write year-month-day, such as 2027-06-12")
    try:
        found = dt.date(int(match[1]), int(match[2]), int(match[3]))
    except ValueError:
        raise Unreadable(f'"{text}" is not in the calendar', "look up the day once more") from None
    if not FIRST_YEAR <= found.year <= LAST_YEAR:
        raise Unreadable(f"no event is in {found.year}", f"write a year from {FIRST_YEAR} to {LAST_YEAR}")
    return found


def following(last: dt.datetime, time: dt.time) -> dt.datetime:
    """Give when *time* of day comes after *last*: the same day, or after midnight the next one's.

    Nobody plans a step of more than eighteen hours; there the same day stands, though it lies before *last*.

    >>> following(dt.datetime(2027, 6, 12, 23, 30), dt.time(1))
    datetime.datetime(2027, 6, 13, 1, 0)
    """
    same = dt.datetime.combine(last.date(), time)
    after = same + dt.timedelta(days=1)
    return after if same < last and after - last <= _LONGEST_STEP else same


def moment(text: str) -> dt.datetime:
    """Read a day and a time of day, `2027-06-14 12:00`."""
    day, _, hour = text.strip().partition(" ")
    return dt.datetime.combine(date(day), time(hour))  # a place's own time; no zone is known


def days(text: str) -> int:
    """Read `30 days`."""
    return _days(text, before=False)


def days_before(text: str) -> int:
    """Read `28 days before`."""
    return _days(text, before=True)


def _days(text: str, *, before: bool) -> int:
    match = _DAYS.fullmatch(text.strip())
    if not match or bool(match[2]) != before:
        example = "28 days before" if before else "30 days"
        raise Unreadable(f'"{shorten(text)}" is not a number of days', f"write {example}")
    return int(match[1])


def span(text: str) -> Span:
    """Read `3` (at least three days) or `2-4`."""
    match = _SPAN.fullmatch(text.strip())
    if not match:
        raise Unreadable(f'"{shorten(text)}" is not a span of days', "write 3, or 2-4")
    least, most = int(match[1]), int(match[2]) if match[2] else None
    if most is not None and most < least:
        raise Unreadable(f'"{text}" ends before it begins', f"write {most}-{least}")
    return Span(least, most)


def for_minutes(minutes: Fraction | int) -> dt.timedelta:
    """Give the time that *minutes* of work take, begun ones counted whole.

    Nothing is planned over years: what is longer counts as two, so that no sum leaves the calendar.
    """
    return dt.timedelta(minutes=max(min(ceil(minutes), _LONGEST_WORK), -_LONGEST_WORK))
