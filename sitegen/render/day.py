"""The day, hour by hour: what the studio does, and the couple's own moments, in the order they come."""

import datetime as dt
from collections.abc import Iterator
from dataclasses import dataclass

from sitegen.model.event import Event, Place
from sitegen.model.hours import hours_at, moves_at
from sitegen.model.piece import Piece
from sitegen.price.priced import PricedEvent
from sitegen.render.couple import Hour
from sitegen.render.dates import hour_of, long_date
from sitegen.render.voice import Voice


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
    hours = hours_at(place, event)
    told = (
        (hours.access, _("We begin"), (), False, False),
        (hours.ready, _("Flowers ready"), here, False, False),
        (hours.starts, use, (), True, False),
        (hours.ends, _("{what} ends", what=use), (), True, True),
        (hours.clear, _("Everything cleared"), (), False, False),
    )
    for at, what, names, own, ends in told:
        if at is not None:
            yield _Stop(at, what, place, names, own, ends)


def _moves(event: Event, pieces: tuple[Piece, ...], voice: Voice) -> Iterator[_Stop]:
    """Pieces that move to one place at one time move together."""
    places = {place.id: place for place in event.places}
    together: dict[tuple[dt.datetime, str], list[str]] = {}
    for piece in pieces:
        second = piece.second_place
        at = moves_at(piece, event) if second and second.from_ else None
        if second and at and second.place in places:
            said = f"{piece.piece} ({second.spot})" if second.spot else piece.piece
            together.setdefault((at, second.place), []).append(said)
    for (at, place), names in together.items():
        yield _Stop(at, voice.words("Flowers move"), places[place], tuple(names))
