"""Dates, times and lists in the couple's language, through Babel."""

import datetime as dt
from functools import lru_cache

from babel import Locale, UnknownLocaleError
from babel.dates import format_date, format_time
from babel.lists import format_list

from sitegen.render.couple_piece import Moment


@lru_cache(maxsize=64)
def locale_of(language: str) -> Locale:
    """Find the locale for a language tag such as `en-US`; else its bare language, else English."""
    for tag in (language, language.partition("-")[0], "en-US"):
        try:
            return Locale.parse(tag, sep="-")
        except (UnknownLocaleError, ValueError):
            continue
    raise ValueError("Babel has no English")


@lru_cache(maxsize=4096)
def full_date(day: dt.date, language: str) -> str:
    """Print a date with its weekday: `Saturday, June 12, 2027`."""
    return format_date(day, "full", locale_of(language))


@lru_cache(maxsize=4096)
def long_date(day: dt.date, language: str) -> str:
    """Print a date: `June 12, 2027`."""
    return format_date(day, "long", locale_of(language))


@lru_cache(maxsize=4096)
def clock(time: dt.time, language: str) -> str:
    """Print a time of day: `3:30 PM`."""
    return format_time(time, "short", locale=locale_of(language))


def time_of(time: dt.time, language: str) -> Moment:
    """Give a time of day as machines and as people read it."""
    return Moment(time.isoformat("minutes"), clock(time, language))


def hour_of(moment: dt.datetime, language: str) -> Moment:
    """Give a moment of the event's days as its time of day."""
    return Moment(moment.strftime("%Y-%m-%dT%H:%M"), clock(moment.time(), language))


@lru_cache(maxsize=256)
def short_month(month: int, language: str) -> str:
    """Name a month briefly, as it stands alone: `Jun`."""
    return format_date(dt.date(2000, month, 1), "LLL", locale_of(language))


@lru_cache(maxsize=4096)
def listed(words: tuple[str, ...], language: str) -> str:
    """Join words: `peony, rose, and olive`."""
    return format_list(words, "standard", locale_of(language)) if words else ""


def reads_from(language: str) -> str:
    """Say the direction of the script, `ltr` or `rtl`."""
    return str(locale_of(language).text_direction)
