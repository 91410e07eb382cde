"""Offers and packs of the catalogue as lots for one event, each with the day it would come."""

import datetime as dt
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from fractions import Fraction

from sitegen.model.catalogue import Break, Supplier
from sitegen.model.content import Shared
from sitegen.order.buy import Lot, Seller, Thing, Want
from sitegen.order.calendar import GOODS_ARRIVE, Arrival, arrival
from sitegen.order.need import Need


@dataclass(frozen=True, slots=True)
class Coming:
    """A lot and its arrival; None where no delivery day falls in the span its stem allows."""

    lot: Lot
    arrival: Arrival | None

    def can_come(self, today: dt.date) -> bool:
        return self.arrival is not None and self.arrival.can_come(today)


def wants(need: Need, shared: Shared) -> tuple[Want, ...]:
    """Say what a need asks for: stems, then goods; lengths in metres."""
    stems = (
        Want(Thing("stem", name), Fraction(n), mix=shared.stems[name].mix) for name, n in need.stems.items()
    )
    return (*stems, *(_of_good(name, need) for name in need.goods))


def _of_good(name: str, need: Need) -> Want:
    thing = Thing("good", name)
    if name in need.pieces:
        return Want(thing, Fraction(need.pieces[name]))
    cuts = tuple(cut.length.metres for cut in need.cuts[name] for _ in range(cut.copies))
    return Want(thing, need.lengths[name].metres, cuts)


def coming(need: Need, shared: Shared, event: dt.date) -> tuple[Coming, ...]:
    """Give every lot of what is needed that is in season in the month of *event*."""
    stems = (found for name in need.stems for found in _of_stem(name, shared, event))
    return (*stems, *(found for name in need.goods for found in _packs(name, shared, event)))


def sellers(suppliers: Mapping[str, Supplier]) -> dict[str, Seller]:
    return {name: Seller(one.delivery, one.minimum) for name, one in suppliers.items()}


def _of_stem(name: str, shared: Shared, event: dt.date) -> Iterable[Coming]:
    stem = shared.stems[name]
    for i, offer in enumerate(stem.offers):
        if offer.in_season(event.month):
            size, breaks = Fraction(offer.bunch.stems), _breaks(offer.breaks)
            lot = Lot(Thing("stem", name), i, offer.supplier, size, offer.price, breaks)
            yield Coming(lot, arrival(shared.suppliers[offer.supplier], stem.arrive, event))


def _packs(name: str, shared: Shared, event: dt.date) -> Iterable[Coming]:
    for i, pack in enumerate(shared.goods[name].packs):
        size = Fraction(pack.pieces or 0) if pack.length is None else pack.length.metres
        lot = Lot(Thing("good", name), i, pack.supplier, size, pack.price, _breaks(pack.breaks))
        yield Coming(lot, arrival(shared.suppliers[pack.supplier], GOODS_ARRIVE, event))


def _breaks(breaks: tuple[Break, ...]) -> tuple[tuple[int, Fraction], ...]:
    return tuple((one.from_, one.price) for one in breaks)
