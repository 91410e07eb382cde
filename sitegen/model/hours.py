"""When things happen at an event: the hours of its places, and when its pieces are built and moved.

All are moments of the place's own clock; no time zone is known. Times after midnight are the next day's.
"""

import datetime as dt
from dataclasses import dataclass

from sitegen.model.event import Event, Place
from sitegen.model.piece import Piece
from sitegen.values.when import following

_DAY = dt.timedelta(days=1)
_NIGHT_ENDS = dt.time(6)


@dataclass(frozen=True, slots=True)
class Hours:
    """The hours of a place as moments, in the order in which they should come; None where it names none."""

    access: dt.datetime | None = None
    ready: dt.datetime | None = None
    starts: dt.datetime | None = None
    ends: dt.datetime | None = None
    clear: dt.datetime | None = None

    @property
    def used_until(self) -> dt.datetime | None:
        """When what stands here may leave: at the end of the use; where that is not known, at its start."""
        return self.ends or self.starts

    @property
    def due(self) -> dt.datetime | None:
        """Until when everything has to stand."""
        return self.ready or self.starts


def hours_at(place: Place, event: Event) -> Hours:
    """Put the hours of *place* on their days."""
    found: dict[str, dt.datetime] = {}
    last: dt.datetime | None = None
    for name in ("access", "ready", "starts", "ends", "clear"):
        time: dt.time | None = getattr(place, name)
        if time is None:
            continue
        if last is None:
            last = _first(day_of(place, event), time, late=name in {"ends", "clear"})
        elif name == "clear" and time < last.time():  # however long it takes, it is after the end
            last = dt.datetime.combine(last.date() + _DAY, time)
        else:
            last = following(last, time)
        found[name] = last
    return Hours(**found)


def _first(day: dt.date, time: dt.time, *, late: bool) -> dt.datetime:
    """What ends or moves before dawn, with nothing before it, does so in the night after the day."""
    return dt.datetime.combine(day + _DAY if late and time < _NIGHT_ENDS else day, time)


def day_of(place: Place | None, event: Event) -> dt.date:
    return (place.date if place else None) or event.date


def place_of(piece: Piece, event: Event) -> Place | None:
    """Where the piece stands first, or is handed over."""
    return next((place for place in event.places if place.id == piece.place), None)


def second_of(piece: Piece, event: Event) -> Place | None:
    """Where the piece moves."""
    then = piece.second_place
    return next((place for place in event.places if then and place.id == then.place), None)


def bench_day(piece: Piece, event: Event) -> dt.date:
    """The day on which the piece is built, counted back from the day on which it is used first."""
    return day_of(place_of(piece, event), event) - dt.timedelta(days=piece.bench.days_before)


def moves_at(piece: Piece, event: Event) -> dt.datetime | None:
    """When the piece leaves for its second place: at its own time, else when the first use ends.

    It cannot move before it is first in place: an earlier time of day is the next day's, where that can be.
    """
    then, first = piece.second_place, place_of(piece, event)
    if then is None:
        return None
    hours = hours_at(first, event) if first else Hours()
    if then.from_ is None:
        return hours.ends
    stands = hours.ready or hours.access
    if stands is not None:
        return following(stands, then.from_)
    return _first(day_of(first, event), then.from_, late=True)
