"""The day, hour by hour: what the studio does, and the couple's own moments, in the order they come."""

import datetime as dt
from collections.abc import Iterator
from dataclasses import dataclass

from sitegen.model.event import Event, Place
from sitegen.model.piece import Piece
from sitegen.price.priced import PricedEvent
from sitegen.render.couple import Hour
from sitegen.render.dates import hour_of, long_date
from sitegen.render.voice import Voice

_DAY = dt.timedelta(days=1)


@dataclass(frozen=True, slots=True)
class _Stop:
    """A moment of the day before it is put into the page's words."""

    at: dt.datetime
    what: str
    place: Place
    pieces: tuple[str, ...] = ()
    own: bool = False
    ends: bool = False


def hours(event: PricedEvent, voice: Voice) -> tuple[Hour, ...]:
    """List the day of an event with places; what has no time is left out."""
    content = event.folder.event
    pieces = tuple(piece.file.piece for piece in event.pieces)
    stops = [stop for place in content.places for stop in _at_place(place, content, pieces, voice)]
    stops += _moves(content, pieces, voice)
    stops.sort(key=lambda stop: stop.at)
    return tuple(_hour(stop, content, voice) for stop in _last_end_only(stops))


def _last_end_only(stops: list[_Stop]) -> Iterator[_Stop]:
    """Where one part of the day runs into the next, only the last end is a moment of its own."""
    last = max((i for i, stop in enumerate(stops) if stop.own), default=-1)
    return (stop for i, stop in enumerate(stops) if not stop.ends or i == last)


def _hour(stop: _Stop, event: Event, voice: Voice) -> Hour:
    where = stop.place.name
    if stop.place.date and stop.place.date != event.date:
        where = f"{where}, {long_date(stop.place.date, voice.language)}"
    return Hour(hour_of(stop.at, voice.language), stop.what, where, voice.listed(stop.pieces), stop.own)


def _at_place(place: Place, event: Event, pieces: tuple[Piece, ...], voice: Voice) -> Iterator[_Stop]:
    _ = voice.words
    here = tuple(piece.piece for piece in pieces if piece.place == place.id)
    use = place.use or place.name
    told = (
        (place.access, _("We begin"), (), False, False),
        (place.ready, _("Flowers ready"), here, False, False),
        (place.starts, use, (), True, False),
        (place.ends, _("{what} ends", what=use), (), True, True),
        (place.clear, _("Everything cleared"), (), False, False),
    )
    day, last = place.date or event.date, dt.time.min
    for time, what, names, own, ends in told:
        if time is not None:
            if time < last:  # past midnight
                day += _DAY
            last = time
            yield _Stop(dt.datetime.combine(day, time), what, place, names, own, ends)


def _moves(event: Event, pieces: tuple[Piece, ...], voice: Voice) -> Iterator[_Stop]:
    """Pieces that move to one place at one time move together."""
    places = {place.id: place for place in event.places}
    together: dict[tuple[dt.datetime, str], list[str]] = {}
    for piece in pieces:
        second = piece.second_place
        if second and second.from_ and second.place in places:
            at = dt.datetime.combine(_day_of(second.from_, places, piece, event), second.from_)
            said = f"{piece.piece} ({second.spot})" if second.spot else piece.piece
            together.setdefault((at, second.place), []).append(said)
    for (at, place), names in together.items():
        yield _Stop(at, voice.words("Flowers move"), places[place], tuple(names))


def _day_of(time: dt.time, places: dict[str, Place], piece: Piece, event: Event) -> dt.date:
    """A piece cannot move before it is first in place: an earlier time of day is the next day's."""
    first = places.get(piece.place or "")
    ready = (first.ready or first.access) if first else None
    day = (first.date if first else None) or event.date
    return day + _DAY if ready and time < ready else day
