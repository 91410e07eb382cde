"""The calendar format, RFC 5545: entries to text. Knows no event and no words.

Moments are floating (RFC 5545, 3.3.5, form 1): content names no time zone, and who opens the calendar is
where the day takes place.
"""

import datetime as dt
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

_MOST_OCTETS = 75
_PRODUCT = "-//sitegen//preparation and run sheet//EN"


@dataclass(frozen=True, slots=True)
class Entry:
    """One entry: a whole day, or from a moment until another.

    `uid` stays the same when the entry moves. Without `until`, a moment has no length.
    """

    uid: str
    at: dt.date | dt.datetime
    summary: str
    until: dt.datetime | None = None
    location: str = ""
    description: str = ""
    category: str = ""


def calendar(name: str, entries: Iterable[Entry], today: dt.date, *, settled: bool) -> str:
    """Write a calendar called *name*, with CRLF line ends, folded at 75 octets.

    *today* stamps every entry, so that the same day gives the same text; what is not *settled* is tentative.
    """
    lines = [
        "BEGIN:VCALENDAR",
        "VERSION:2.0",
        f"PRODID:{_PRODUCT}",
        f"NAME:{escaped(name)}",
        *(line for entry in entries for line in _entry(entry, today, settled=settled)),
        "END:VCALENDAR",
    ]
    return "".join(f"{part}\r\n" for line in lines for part in folded(line))


def escaped(text: str) -> str:
    r"""Write *text* as a value of type TEXT (RFC 5545, 3.3.11).

    >>> print(escaped("Pins, wire; a backslash: \\"))
    Pins\, wire\; a backslash: \\
    """
    for one in "\\;,":
        text = text.replace(one, f"\\{one}")
    return text.replace("\r\n", "\\n").replace("\n", "\\n").replace("\r", "\\n")


def folded(line: str) -> Iterator[str]:
    """Cut *line* into lines of at most 75 octets, each but the first begun with a space (RFC 5545, 3.1).

    No letter of several octets is cut.
    """
    octets, start, room = line.encode(), 0, _MOST_OCTETS
    while len(octets) - start > room:
        end = start + room
        while octets[end] & 0b1100_0000 == 0b1000_0000:  # inside a letter
            end -= 1
        yield (" " if start else "") + octets[start:end].decode()
        start, room = end, _MOST_OCTETS - 1
    yield (" " if start else "") + octets[start:].decode()


def _entry(entry: Entry, today: dt.date, *, settled: bool) -> Iterator[str]:
    yield "BEGIN:VEVENT"
    yield f"UID:{escaped(entry.uid)}"
    yield f"DTSTAMP:{today:%Y%m%d}T000000Z"
    if isinstance(entry.at, dt.datetime):
        yield f"DTSTART:{entry.at:%Y%m%dT%H%M%S}"
        if entry.until is not None and entry.until > entry.at:
            yield f"DTEND:{entry.until:%Y%m%dT%H%M%S}"
    else:
        yield f"DTSTART;VALUE=DATE:{entry.at:%Y%m%d}"
        yield f"DTEND;VALUE=DATE:{entry.at + dt.timedelta(days=1):%Y%m%d}"  # the end is the first day after
        yield "TRANSP:TRANSPARENT"
    yield f"SUMMARY:{escaped(entry.summary)}"
    told = (("LOCATION", entry.location), ("DESCRIPTION", entry.description), ("CATEGORIES", entry.category))
    yield from (f"{name}:{escaped(text)}" for name, text in told if text)
    yield f"STATUS:{'CONFIRMED' if settled else 'TENTATIVE'}"
    yield "END:VEVENT"
