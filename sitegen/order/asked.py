"""What several events ask of the market, each by itself: what it lacks, and what is on sale for it."""

import datetime as dt
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from math import ceil

from sitegen.model.catalogue import Good, Stem
from sitegen.model.content import Shared
from sitegen.order.calendar import GOODS_ARRIVE
from sitegen.order.held import from_same_growers, lacking
from sitegen.order.lots import Coming, coming, sellers
from sitegen.order.market import Seller, Thing, Want
from sitegen.order.need import stem_loss
from sitegen.order.on_its_way import asked_now, still_sold
from sitegen.order.order import Order
from sitegen.order.placed import holdings
from sitegen.order.windows import Window, window
from sitegen.values.length import Length

_NONE = Fraction(0)


@dataclass(frozen=True, slots=True)
class Asked:
    """What each event lacks, exactly how much it takes, and what is on sale for it, by its index.

    `whole` is how many stems or pieces it pulls of what it lacks, without a loss. `in_hand` is what each
    takes from stock, the earlier event first: no stem of it is counted twice.
    """

    orders: tuple[Order, ...]
    today: dt.date
    shared: Shared
    lacks: tuple[Mapping[Thing, Want], ...]
    exact: tuple[Mapping[Thing, Fraction], ...]
    whole: tuple[Mapping[Thing, Fraction], ...]
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

    def held(self, thing: Thing, event: int) -> Fraction:
        return self.in_hand[event].get(thing, _NONE)

    def weight(self, thing: Thing, event: int) -> Fraction:
        """Say by what a purchase is shared: what the event takes beyond what it has in hand."""
        return max(self.exact[event][thing] - self.held(thing, event), _NONE)

    def by_length(self, thing: Thing) -> bool:
        return thing.kind == "good" and self.shared.goods[thing.id].by_length

    def mixes(self, thing: Thing, event: int) -> bool:
        """Whether it may come from several suppliers for one event, as goods always may."""
        return thing.kind == "good" or self.lacks[event][thing].mix

    def growers(self, thing: Thing, event: int) -> frozenset[str]:
        """Name who brings it to the event already."""
        return from_same_growers((thing,), self.orders[event].before.placings).get(thing, frozenset())

    def still_from(self, supplier: str, thing: Thing, event: int) -> tuple[Coming, ...]:
        """Give a supplier's lots of a thing, if any can come; else all there are."""
        lots = self.on_sale[event].get(thing, ())
        own = tuple(one for one in lots if one.lot.supplier == supplier)
        return own if any(one.can_come(self.today) for one in own) else lots


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
    taken = [_taken(order) for order in orders]
    return Asked(
        orders=tuple(orders),
        today=today,
        shared=shared,
        lacks=lacks,
        exact=tuple(
            _exact(of, order, wants, shared) for of, order, wants in zip(taken, orders, lacks, strict=True)
        ),
        whole=tuple(_whole(of, order, wants) for of, order, wants in zip(taken, orders, lacks, strict=True)),
        in_hand=_in_hand(orders, lacks, shared),
        on_sale=on_sale,
        sellers=_sellers(orders, shared, today),
    )


def _in_hand(
    orders: Sequence[Order], lacks: Sequence[Mapping[Thing, Want]], shared: Shared
) -> tuple[Mapping[Thing, Fraction], ...]:
    """Give stock out, to the earlier event first; a length in hand is one roll, and goes to one."""
    taken: list[dict[Thing, Fraction]] = [{} for _ in orders]
    left = _not_relied_on(orders, shared)
    for i in sorted(range(len(orders)), key=lambda i: (orders[i].priced.folder.event.date, i)):
        for thing, want in lacks[i].items():
            if not want.held:
                continue
            there = min(left.get(thing, want.held), want.held)
            whole = thing.kind == "good" and shared.goods[thing.id].by_length
            taken[i][thing] = there if whole else min(there, want.amount)
            left[thing] = there - taken[i][thing]
    return tuple(taken)


def _not_relied_on(orders: Sequence[Order], shared: Shared) -> dict[Thing, Fraction]:
    """What is left of the stock of which placed orders have counted on a part; of a roll, nothing."""
    left: dict[Thing, Fraction] = {}
    for order in orders:
        bought: dict[Thing, Fraction] = {}
        for one in holdings(order.before.placings):
            bought[one.bought.thing] = bought.get(one.bought.thing, _NONE) + one.bought.amount
        for want in order.wanted if order.before.placings else ():
            relied = min(want.held, want.amount - bought.get(want.thing, _NONE))
            if relied > 0:
                roll = want.thing.kind == "good" and shared.goods[want.thing.id].by_length
                left[want.thing] = _NONE if roll else left.get(want.thing, want.held) - relied
    return left


def _exact(
    taken: Mapping[Thing, Fraction], order: Order, lacks: Mapping[Thing, Want], shared: Shared
) -> dict[Thing, Fraction]:
    """How much an event takes of what it lacks, with the loss, before anything is rounded."""
    if order.before.placings:
        return {thing: want.amount for thing, want in lacks.items()}
    loss, stems, goods = shared.studio.pricing.loss, shared.stems, shared.goods
    lost = {
        thing: stem_loss(stems[thing.id], loss) if thing.kind == "stem" else goods[thing.id].loss
        for thing in lacks
    }
    return {thing: taken[thing] * (1 + lost[thing]) for thing in lacks}


def _whole(
    taken: Mapping[Thing, Fraction], order: Order, lacks: Mapping[Thing, Want]
) -> dict[Thing, Fraction]:
    """How many whole stems or pieces it pulls of what it lacks: each event rounds these up for itself."""
    if order.before.placings:
        return {thing: want.amount for thing, want in lacks.items()}
    return {thing: Fraction(ceil(taken[thing])) for thing in lacks}


def _taken(order: Order) -> dict[Thing, Fraction]:
    """How much the pieces of an event take in all: stems, pieces or metres."""
    taken: dict[Thing, Fraction] = {}
    for portion in order.portions:
        for stem, n in portion.made.recipe.items():
            thing = Thing("stem", stem)
            taken[thing] = taken.get(thing, _NONE) + n * portion.copies
        for good, amount in portion.made.goods.items():
            thing = Thing("good", good)
            size = amount.metres if isinstance(amount, Length) else amount
            taken[thing] = taken.get(thing, _NONE) + size * portion.copies
    return taken


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


def _sellers(orders: Sequence[Order], shared: Shared, today: dt.date) -> dict[str, Seller]:
    """What each supplier asks: nothing where its delivery for any of the events is on its way.

    The order of all of them is one order, and a fee and a minimum count once for it.
    """
    asking = sellers(shared.suppliers)
    for order in orders:
        asking = asked_now(asking, order.before.placings, today, order.lost)
    return asking
