"""The days on which the van goes out, where to, and how long it drives."""

import datetime as dt
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise

from sitegen.model.event import Event, Place
from sitegen.model.hours import day_of, place_of, second_of
from sitegen.model.piece import Piece
from sitegen.model.terms import Crew
from sitegen.order.need import Portion
from sitegen.order.order import Order

_NONE = Fraction(0)


@dataclass(frozen=True, slots=True)
class Trip:
    """One day out: its places as event.md lists them, and minutes on the road.

    *untold* are the places, or None for an event without any, whose way nobody wrote: it counts as none.
    """

    day: dt.date
    places: tuple[Place, ...]
    way: Fraction
    between: Fraction
    untold: tuple[Place | None, ...] = ()

    @property
    def driven(self) -> Fraction:
        """Minutes there, on from place to place, and back; the way back is taken to be the way there."""
        return self.way * 2 + self.between


def crew_of(order: Order) -> Crew:
    """Who works; where nobody is named, one pair of hands."""
    return order.priced.terms.crew or Crew()


def pieces_of(order: Order) -> Iterator[tuple[Portion, Piece]]:
    """Give each portion of which something is made, with its piece."""
    pieces = {piece.id: piece.file.piece for piece in order.priced.pieces}
    return ((portion, pieces[portion.id]) for portion in order.portions if portion.copies)


def trips(order: Order) -> tuple[Trip, ...]:
    """List the days out. What the couple fetch and make needs none, unless the studio works on it there."""
    event = order.priced.folder.event
    days: dict[dt.date, dict[str, Place]] = {}
    for portion, piece in pieces_of(order):
        first, second = place_of(piece, event), second_of(piece, event)
        if not portion.made.by_couple or piece.site.minutes:
            there = days.setdefault(day_of(first, event), {})
            there.update({first.id: first} if first else {})
        if second is not None and (not portion.made.by_couple or _moved_by_us(piece)):
            days.setdefault(day_of(second, event), {})[second.id] = second
    return tuple(_trip(day, days[day], order) for day in sorted(days))


def _moved_by_us(piece: Piece) -> bool:
    return piece.second_place is not None and piece.second_place.minutes > 0


def _trip(day: dt.date, there: dict[str, Place], order: Order) -> Trip:
    event = order.priced.folder.event
    places = tuple(place for place in event.places if place.id in there)
    return Trip(day, places, _way(places, order), _between(places, event), tuple(_untold(places, order)))


def _untold(places: tuple[Place, ...], order: Order) -> Iterator[Place | None]:
    """Name where a way counts as no minutes because none are written, here or in the studio's figures."""
    event, work = order.priced.folder.event, order.priced.shared.studio.work
    first = places[0] if places else None
    own = first is not None and first == event.places[0] and first.travel is not None
    if not own and "travel" not in work.model_fields_set:
        yield first
    for one, other in pairwise(places):
        i, j = event.places.index(one), event.places.index(other)
        yield from (place for place in event.places[i + 1 : j + 1] if place.travel is None)


def _way(places: tuple[Place, ...], order: Order) -> Fraction:
    """The way to the event's first place may be written there; to others it is the studio's figure."""
    first = places[0] if places and places[0] == order.priced.folder.event.places[0] else None
    if first is not None and first.travel is not None:
        return first.travel
    return order.priced.shared.studio.work.travel


def _between(places: tuple[Place, ...], event: Event) -> Fraction:
    return sum((apart(event, a, b) for a, b in pairwise(places)), _NONE)


def apart(event: Event, one: Place, other: Place) -> Fraction:
    """Give the minutes between two places: each says how far it is from the one that is listed before it."""
    places = [place.id for place in event.places]
    i, j = sorted((places.index(one.id), places.index(other.id)))
    return sum((place.travel or _NONE for place in event.places[i + 1 : j + 1]), _NONE)
