"""Hours that a night of changing clocks leaves out.

Content names no time zone: its hours are those on the wall. Which clocks these are is taken from the region
in the studio's language tag (`en-US`), where its people most likely work; without a region nothing is said.
"""

import datetime as dt
from collections.abc import Iterator
from functools import cache
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from babel import Locale, UnknownLocaleError
from babel.core import get_global

from sitegen.model.event import Event
from sitegen.model.hours import hours_at, moves_at
from sitegen.model.piece import Piece
from sitegen.values.node import Map, Path, place_at
from sitegen.values.problem import Problem

_CHANGES_BEFORE = 4  # o'clock: no clock goes forward later in the day


def of_event(event: Event, node: Map, language: str) -> Iterator[Problem]:
    """Warn of hours of the event that do not exist where the studio's clocks go forward."""
    for path, moment in _moments(event):
        yield from _gap(moment, node, path, language)


def of_piece(piece: Piece, event: Event, node: Map, language: str) -> Iterator[Problem]:
    """The same for the hour at which a piece moves."""
    then = piece.second_place
    moment = moves_at(piece, event) if then and then.from_ else None
    if moment is not None:
        yield from _gap(moment, node, ("second_place", "from"), language)


def _moments(event: Event) -> Iterator[tuple[Path, dt.datetime]]:
    for i, place in enumerate(event.places):
        hours = hours_at(place, event)
        for name in ("access", "ready", "starts", "ends", "clear"):
            moment = getattr(hours, name)
            if moment is not None:
                yield ("places", i, name), moment
    if event.hire_back is not None:
        yield ("hire_back",), event.hire_back
    if event.collect is not None:
        yield ("collect", "at"), event.collect.at


def _gap(moment: dt.datetime, node: Map, path: Path, language: str) -> Iterator[Problem]:
    region = _region(language) if moment.hour < _CHANGES_BEFORE else None
    if region is None:
        return
    shift = max((left_out(moment, zone) for zone in zones_of(region)), default=dt.timedelta())
    if not shift:
        return
    name = Locale.parse("en").territories.get(region, region)
    what = f"there is no {moment:%H:%M} on {moment:%Y-%m-%d}: clocks in {name} go forward over it"
    why = (
        "The run sheet would send people at an hour that no clock shows. The region is that of your language."
    )
    fix = f"write {moment + shift:%H:%M}, or leave it where the clocks of the place do not change"
    yield Problem("clock-gap", place_at(node, path), what, why, fix, "warning")


def left_out(moment: dt.datetime, zone: ZoneInfo) -> dt.timedelta:
    """Give by how much clocks of *zone* jump over *moment*, nothing where they show it (RFC 5545, 3.3.5)."""
    there = moment.replace(tzinfo=zone)
    back = there.astimezone(dt.UTC).astimezone(zone)
    return max(back.replace(tzinfo=None) - moment, dt.timedelta())


@cache
def _region(language: str) -> str | None:
    try:
        return Locale.parse(language, sep="-").territory
    except (UnknownLocaleError, ValueError):
        return None


@cache
def zones_of(region: str) -> tuple[ZoneInfo, ...]:
    """Give the time zones of a region by the Unicode CLDR; those that this machine lacks are left out."""
    found = []
    for name, territory in get_global("zone_territories").items():
        if territory == region:
            try:
                found.append(ZoneInfo(name))
            except (ZoneInfoNotFoundError, ValueError):
                continue
    return tuple(found)
