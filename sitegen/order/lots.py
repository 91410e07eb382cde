"""Offers and packs of the catalogue as lots for one event, each with the day it would come."""

import datetime as dt
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from itertools import chain, repeat

from sitegen.model.catalogue import Break, Good, InHand, Stem, Supplier
from sitegen.model.content import Shared
from sitegen.order.buy import Lot, Seller, Thing, Want
from sitegen.order.calendar import GOODS_ARRIVE, Arrival, arrival
from sitegen.order.need import Need
from sitegen.values.when import Span


@dataclass(frozen=True, slots=True)
class Coming:
    """A lot and its arrival; None where no delivery day falls in the span its stem allows."""

    lot: Lot
    arrival: Arrival | None

    def can_come(self, today: dt.date) -> bool:
        return self.arrival is not None and self.arrival.can_come(today)


def wants(need: Need, shared: Shared, event: dt.date) -> tuple[Want, ...]:
    """Say what a need asks for, and what of it is in hand on the day of *event*; lengths in metres.

    Stems, then goods.
    """

    def held(name: str) -> Fraction:
        return in_hand(shared.stock.get(name), event)

    stems = (
        Want(Thing("stem", name), Fraction(n), mix=shared.stems[name].mix, held=held(name))
        for name, n in need.stems.items()
    )
    return (*stems, *(_of_good(name, need, held(name)) for name in need.goods))


def _of_good(name: str, need: Need, held: Fraction) -> Want:
    thing = Thing("good", name)
    if name in need.pieces:
        return Want(thing, Fraction(need.pieces[name]), mix=True, held=held)
    cuts = chain.from_iterable(repeat(cut.length.metres, cut.copies) for cut in need.cuts[name])
    return Want(thing, need.lengths[name].metres, tuple(cuts), mix=True, held=held)


def in_hand(stock: InHand | None, day: dt.date) -> Fraction:
    """Give what of a stem or good in stock is still good on *day*: stems, pieces or metres."""
    if stock is None or (stock.until is not None and stock.until < day):
        return Fraction(0)
    return Fraction(stock.length.metres if stock.length else stock.stems or stock.pieces or 0)


def coming(need: Need, shared: Shared, event: dt.date) -> tuple[Coming, ...]:
    """Give every lot of what is needed that is in season in the month of *event*."""

    @cache
    def comes(supplier: str, span: Span) -> Arrival | None:
        return arrival(shared.suppliers[supplier], span, event)

    stems = (
        Coming(lot, comes(lot.supplier, shared.stems[name].arrive))
        for name in need.stems
        for lot in _of_stem(name, shared.stems[name], event.month)
    )
    goods = (lot for name in need.goods for lot in _packs(name, shared.goods[name]))
    return (*stems, *(Coming(lot, comes(lot.supplier, GOODS_ARRIVE)) for lot in goods))


def sellers(suppliers: Mapping[str, Supplier]) -> dict[str, Seller]:
    return {name: Seller(one.delivery, one.minimum) for name, one in suppliers.items()}


def _of_stem(name: str, stem: Stem, month: int) -> Iterable[Lot]:
    for i, offer in enumerate(stem.offers):
        if offer.in_season(month):
            size, breaks = Fraction(offer.bunch.stems), _breaks(offer.breaks)
            yield Lot(Thing("stem", name), i, offer.supplier, size, offer.price, breaks)


def _packs(name: str, good: Good) -> Iterable[Lot]:
    for i, pack in enumerate(good.packs):
        size = Fraction(pack.pieces or 0) if pack.length is None else pack.length.metres
        yield Lot(Thing("good", name), i, pack.supplier, size, pack.price, _breaks(pack.breaks))


def _breaks(breaks: tuple[Break, ...]) -> tuple[tuple[int, Fraction], ...]:
    return tuple((one.from_, one.price) for one in breaks)
