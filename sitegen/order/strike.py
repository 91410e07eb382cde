"""Where something is taken down at the end, what comes home from there, and how long it takes."""

import datetime as dt
from dataclasses import dataclass
from fractions import Fraction
from math import ceil

from sitegen.model.event import Place
from sitegen.model.hours import day_of, place_of, second_of
from sitegen.model.piece import Piece
from sitegen.order.need import Portion
from sitegen.order.order import Order
from sitegen.order.trips import pieces_of
from sitegen.values.length import Length
from sitegen.values.money import share


@dataclass(frozen=True, slots=True)
class Strike:
    """Taking down at one place (None where none is named): minutes of each hand, hire pieces by good."""

    place: Place | None
    day: dt.date
    minutes: Fraction
    hire: dict[str, int]


def strikes(order: Order) -> tuple[Strike, ...]:
    """List where the studio takes down, as event.md lists the places.

    The studio's minutes for a strike are shared between the places in whole minutes. Where nothing comes home
    and nothing was set up, there is nothing to take down.
    """
    event, whole = order.priced.folder.event, order.priced.shared.studio.work.strike
    last: dict[str, tuple[Place | None, dict[str, int]]] = {}
    for portion, piece in pieces_of(order):
        home = hire_of(portion, order)
        if home or _set_up(piece):
            place = second_of(piece, event) or place_of(piece, event)
            goods = last.setdefault(place.id if place else "", (place, {}))[1]
            for good, n in home.items():
                goods[good] = goods.get(good, 0) + n
    order_of = {place.id: i for i, place in enumerate(event.places)}
    found = sorted(last.items(), key=lambda one: order_of.get(one[0], len(order_of)))
    parts = _parts(whole, len(found))
    return tuple(
        Strike(place, day_of(place, event), minutes, goods)
        for (_, (place, goods)), minutes in zip(found, parts, strict=True)
    )


def hire_of(portion: Portion, order: Order) -> dict[str, int]:
    """Count the hire pieces that go out with all copies of a piece, the vessel of its second place too."""
    goods = order.priced.shared.goods
    return {
        good: ceil(amount * portion.copies)
        for good, amount in portion.made.goods.items()
        if goods[good].hire is not None and not isinstance(amount, Length)
    }


def _set_up(piece: Piece) -> bool:
    return bool(
        piece.site.minutes or piece.bench.on_site or (piece.second_place and piece.second_place.minutes)
    )


def _parts(minutes: Fraction, places: int) -> tuple[Fraction, ...]:
    if not places:
        return ()
    if minutes.denominator != 1:
        return (minutes / places,) * places
    return tuple(Fraction(part) for part in share(int(minutes), [1] * places))
