"""What several events ask of the market: by thing, in groups of those whom one delivery suits."""

import datetime as dt
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cached_property
from math import ceil

from sitegen.model.catalogue import Good, Stem
from sitegen.model.content import Shared
from sitegen.order.calendar import GOODS_ARRIVE, Arrival
from sitegen.order.held import lacking
from sitegen.order.lots import Coming, coming, sellers
from sitegen.order.market import Buyer, Lot, Purchases, Seller, Thing, Want
from sitegen.order.need import stem_loss
from sitegen.order.on_its_way import asked_now, still_sold
from sitegen.order.order import Order
from sitegen.order.windows import Window, arrival_in, met, window
from sitegen.values.length import Length
from sitegen.values.number import total

_NONE = Fraction(0)


@dataclass(frozen=True, slots=True)
class Asked:
    """What each event lacks, exactly how much it takes, and what is on sale for it, by its index.

    `in_hand` is what each takes from stock, the earlier event first: no stem of it is counted twice.
    """

    orders: tuple[Order, ...]
    today: dt.date
    shared: Shared
    lacks: tuple[Mapping[Thing, Want], ...]
    exact: tuple[Mapping[Thing, Fraction], ...]
    in_hand: tuple[Mapping[Thing, Fraction], ...]
    on_sale: tuple[Mapping[Thing, tuple[Coming, ...]], ...]
    sellers: Mapping[str, Seller]

    def takers(self, thing: Thing) -> list[int]:
        """Give who lacks a thing, the earliest first to need it there."""
        found = (i for i, lacks in enumerate(self.lacks) if thing in lacks)
        return sorted(found, key=lambda i: (self.window(thing, i).last, i))

    def window(self, thing: Thing, event: int) -> Window:
        span = self.shared.stems[thing.id].arrive if thing.kind == "stem" else GOODS_ARRIVE
        return window(span, self.orders[event].priced.folder.event.date)


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


def asked_of(orders: Sequence[Order], now: Shared, today: dt.date) -> Asked:
    """Say what the events of *orders* lack beside what was placed, and what is on sale for each *today*.

    *now* is the catalogue as it is.
    """
    shared = _catalogue(now, orders)
    lacks = tuple(
        {want.thing: want for want in lacking(order.wanted, order.before.placings)} for order in orders
    )
    on_sale = tuple(
        _by_thing(
            still_sold(
                coming(order.need, shared, order.priced.folder.event.date),
                wants.values(),
                order.before.placings,
                today,
            )
        )
        for order, wants in zip(orders, lacks, strict=True)
    )
    exact = tuple(_exact(order, wants, shared) for order, wants in zip(orders, lacks, strict=True))
    hand = _in_hand(orders, lacks, shared)
    return Asked(
        tuple(orders), today, shared, lacks, exact, hand, on_sale, _sellers(orders, lacks, shared, today)
    )


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
    by_length = thing.kind == "good" and asked.shared.goods[thing.id].by_length
    amount = summed if by_length else Fraction(ceil(summed))
    amount += total(asked.lacks[taker][thing].amount for taker in takers if taker not in fresh)
    held = total(asked.in_hand[taker].get(thing, _NONE) for taker in takers)
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


def _in_hand(
    orders: Sequence[Order], lacks: Sequence[Mapping[Thing, Want]], shared: Shared
) -> tuple[Mapping[Thing, Fraction], ...]:
    """Give stock out, to the earlier event first; a length in hand is one roll, and goes to one."""
    taken: list[dict[Thing, Fraction]] = [{} for _ in orders]
    left: dict[Thing, Fraction] = {}
    for i in sorted(range(len(orders)), key=lambda i: (orders[i].priced.folder.event.date, i)):
        for thing, want in lacks[i].items():
            if not want.held:
                continue
            there = min(left.get(thing, want.held), want.held)
            whole = thing.kind == "good" and shared.goods[thing.id].by_length
            taken[i][thing] = there if whole else min(there, want.amount)
            left[thing] = there - taken[i][thing]
    return tuple(taken)


def _exact(order: Order, lacks: Mapping[Thing, Want], shared: Shared) -> dict[Thing, Fraction]:
    """How much an event takes of what it lacks, with the loss, before anything is rounded."""
    if order.before.placings:
        return {thing: want.amount for thing, want in lacks.items()}
    loss = shared.studio.pricing.loss
    taken: dict[Thing, Fraction] = {}
    for portion in order.portions:
        for stem, n in portion.made.recipe.items():
            thing = Thing("stem", stem)
            taken[thing] = taken.get(thing, _NONE) + n * portion.copies
        for good, amount in portion.made.goods.items():
            thing = Thing("good", good)
            size = amount.metres if isinstance(amount, Length) else amount
            taken[thing] = taken.get(thing, _NONE) + size * portion.copies
    stems, goods = shared.stems, shared.goods
    lost = {
        thing: stem_loss(stems[thing.id], loss) if thing.kind == "stem" else goods[thing.id].loss
        for thing in lacks
    }
    return {thing: taken[thing] * (1 + lost[thing]) for thing in lacks}


def _by_thing(on_sale: Iterable[Coming]) -> dict[Thing, tuple[Coming, ...]]:
    found: dict[Thing, list[Coming]] = {}
    for one in on_sale:
        found.setdefault(one.lot.thing, []).append(one)
    return {thing: tuple(lots) for thing, lots in found.items()}


def _catalogue(now: Shared, orders: Iterable[Order]) -> Shared:
    """The catalogue of today; what an event has that is no longer in it is sold by nobody."""
    stems: dict[str, Stem] = {}
    goods: dict[str, Good] = {}
    for order in orders:
        stems |= {id_: one for id_, one in order.priced.shared.stems.items() if id_ not in now.stems}
        goods |= {id_: one for id_, one in order.priced.shared.goods.items() if id_ not in now.goods}
    gone = {id_: one.model_copy(update={"offers": ()}) for id_, one in stems.items()}
    lost = {id_: one.model_copy(update={"packs": ()}) for id_, one in goods.items()}
    return replace(now, stems={**now.stems, **gone}, goods={**now.goods, **lost})


def _sellers(
    orders: Sequence[Order], lacks: Sequence[Mapping[Thing, Want]], shared: Shared, today: dt.date
) -> dict[str, Seller]:
    """What each supplier asks: nothing where its delivery is on its way for all who lack something."""
    every = sellers(shared.suppliers)
    asking = [
        asked_now(every, one.before.placings, today) for one, of in zip(orders, lacks, strict=True) if of
    ]
    return {
        name: Seller() if asking and all(one[name] == Seller() for one in asking) else seller
        for name, seller in every.items()
    }
