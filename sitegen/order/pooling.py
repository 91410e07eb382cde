"""What several events ask of the market: by thing, in groups of those whom one delivery suits."""

import datetime as dt
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cached_property
from math import ceil

from sitegen.order.asked import Asked
from sitegen.order.calendar import Arrival
from sitegen.order.lots import Coming
from sitegen.order.market import Buyer, Lot, Purchases, Thing, Want
from sitegen.order.windows import arrival_in, met
from sitegen.values.number import total


@dataclass(frozen=True)
class Group:
    """Those who get a thing from one purchase; `key` is its name on the market, where others want it too."""

    thing: Thing
    takers: tuple[int, ...]
    key: Thing
    want: Want
    on_sale: tuple[Coming, ...]
    by_length: bool

    def in_time(self, today: dt.date) -> bool:
        return not self.on_sale or any(one.can_come(today) for one in self.on_sale)

    def real(self, lot: Lot) -> tuple[Lot, Arrival | None]:
        """Give a lot of the market as the catalogue has it, and when it comes."""
        found = self._by_index[lot.index]
        return replace(lot, thing=self.thing), found.arrival

    @cached_property
    def _by_index(self) -> dict[int, Coming]:
        return {one.lot.index: one for one in self.on_sale}


def pooled(asked: Asked) -> Iterator[Group]:
    """Group those who lack a thing as far as one delivery suits them."""
    for thing in _things(asked):
        groups: list[tuple[int, ...]] = []
        for taker in asked.takers(thing):
            if groups and _suits(asked, thing, (*groups[-1], taker)):
                groups[-1] = (*groups[-1], taker)
            else:
                groups.append((taker,))
        yield from (_group(asked, thing, takers) for takers in groups)


def one_each(asked: Asked) -> Iterator[Group]:
    """Leave each event by itself."""
    for thing in _things(asked):
        yield from (_group(asked, thing, (taker,)) for taker in asked.takers(thing))


def solved(asked: Asked, groups: Sequence[Group], buyer: Buyer) -> Purchases:
    """Buy what *groups* want as one order; where something can no longer come, without lead days."""
    late = not all(group.in_time(asked.today) for group in groups)
    lots = [
        replace(one.lot, thing=group.key)
        for group in groups
        for one in group.on_sale
        if late or one.can_come(asked.today)
    ]
    return buyer([group.want for group in groups], lots, asked.sellers)


def _things(asked: Asked) -> list[Thing]:
    """Name all that is lacking, stems first, in the order in which the events name it."""
    every = dict.fromkeys(thing for lacks in asked.lacks for thing in lacks)
    return sorted(every, key=lambda thing: thing.kind != "stem")


def _group(asked: Asked, thing: Thing, takers: tuple[int, ...]) -> Group:
    """The first to take it stands in the key: no two groups of a thing have the same."""
    key = Thing(thing.kind, f"{thing.id} {takers[0]}")
    wants = [asked.lacks[taker][thing] for taker in takers]
    fresh = [taker for taker in takers if not asked.orders[taker].before.placings]
    summed = total(asked.exact[taker][thing] for taker in fresh)
    cuts = tuple(cut for want in wants for cut in want.cuts)
    by_length = asked.by_length(thing)
    # Each event pulls whole stems of its own: without a loss that may be more than their sum rounded up once.
    pulled = total(asked.whole[taker][thing] for taker in fresh)
    amount = summed if by_length else max(Fraction(ceil(summed)), pulled)
    amount += total(asked.lacks[taker][thing].amount for taker in takers if taker not in fresh)
    held = total(asked.held(thing, taker) for taker in takers)
    want = Want(key, amount, cuts, mix=any(one.mix for one in wants), held=held)
    return Group(thing, takers, key, want, _lots(asked, thing, takers), by_length)


def _suits(asked: Asked, thing: Thing, takers: tuple[int, ...]) -> bool:
    """Whether some lot is in season and comes for all; in time, where each has one that does."""
    lots = _lots(asked, thing, takers)
    if any(one.can_come(asked.today) for one in lots):
        return True
    alone = (any(one.can_come(asked.today) for one in asked.on_sale[i].get(thing, ())) for i in takers)
    return bool(lots) and not any(alone)


def _lots(asked: Asked, thing: Thing, takers: tuple[int, ...]) -> tuple[Coming, ...]:
    """The lots that are on sale for all of *takers*, with a day on which they come for all."""
    first, *others = (asked.on_sale[taker].get(thing, ()) for taker in takers)
    if not others:
        return first
    known = [{one.lot.index for one in lots} for lots in others]
    days = met(asked.window(thing, taker) for taker in takers)
    suppliers = asked.shared.suppliers
    found = (
        Coming(one.lot, arrival_in(suppliers[one.lot.supplier], days))
        for one in first
        if all(one.lot.index in indexes for indexes in known)
    )
    return tuple(one for one in found if one.arrival is not None)
