"""The order of one event: what is needed, bought and pulled for its picks, as one value."""

import datetime as dt
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction

from sitegen.choices.picks import Picks
from sitegen.order.buy import Purchase, Purchases, Thing, buy
from sitegen.order.calendar import Arrival
from sitegen.order.lots import Coming, coming, sellers, wants
from sitegen.order.need import Need, Portion, need
from sitegen.order.notes import notes
from sitegen.order.pull import Block, pull
from sitegen.price.priced import PricedEvent
from sitegen.values.problem import Problem


@dataclass(frozen=True, slots=True)
class Row:
    """One line of the order, and when it comes; no arrival where no delivery day suits."""

    bought: Purchase
    arrival: Arrival | None

    @property
    def thing(self) -> Thing:
        return self.bought.lot.thing

    @property
    def supplier(self) -> str:
        return self.bought.lot.supplier


@dataclass(frozen=True, slots=True)
class Order:
    """Everything that one event's picks ask for. Private, whole.

    Money is exact, in whole units of the currency. `late` tells that something
    can no longer come in time, so lead days were left out for the whole order;
    `problems` are warnings that stop nothing.
    """

    priced: PricedEvent
    portions: tuple[Portion, ...]
    need: Need
    rows: tuple[Row, ...]
    deliveries: Mapping[str, Fraction]
    missing: tuple[Thing, ...]
    late: tuple[Thing, ...]
    pulled: tuple[Block, ...]
    cost: Fraction
    quoted: Fraction
    problems: tuple[Problem, ...]

    @property
    def spare(self) -> dict[str, int]:
        """Stems bought above the need, as the recipes name them; what is bought exactly counts 0."""
        got = self.bought_stems
        return {name: got[name] - n for name, n in self.need.stems.items() if name in got}

    @property
    def bought_stems(self) -> dict[str, int]:
        got: dict[str, int] = {}
        for row in self.rows:
            if row.thing.kind == "stem":
                got[row.thing.id] = got.get(row.thing.id, 0) + int(row.bought.amount)
        return got


def order(priced: PricedEvent, picks: Picks, today: dt.date) -> Order:
    """Order what an event takes at *picks*, as it can still come on *today*."""
    return order_of(priced, portions(priced, picks), today)


def portions(priced: PricedEvent, picks: Picks) -> tuple[Portion, ...]:
    """Say what is made of each piece at *picks*: the extra ones beside those that are charged.

    Of a piece that is left out, or of which none is wanted, nothing is made.
    """
    made = []
    for piece, pick in zip(priced.pieces, picks.pieces, strict=True):
        if pick.quantity and not pick.out:
            one = piece.at(pick.answers)
            copies = pick.quantity + piece.file.piece.extra
            made.append(Portion(piece.id, one.made, copies, one.cost))
    return tuple(made)


def order_of(priced: PricedEvent, portions: Sequence[Portion], today: dt.date) -> Order:
    """Order what *portions* of an event take, as it can still come on *today*.

    Where lead days leave something without any offer, the whole order is made
    without them, and says so.
    """
    shared, event = priced.shared, priced.folder.event
    needed = need(portions, shared.stems, shared.goods, shared.studio.pricing.loss)
    on_sale = coming(needed, shared, event.date)
    late = _late(on_sale, today)
    lots = on_sale if late else [one for one in on_sale if one.can_come(today)]
    asked = sellers(shared.suppliers)
    purchases = buy(wants(needed, shared), [one.lot for one in lots], asked)
    return Order(
        priced=priced,
        portions=tuple(portions),
        need=needed,
        rows=_rows(purchases, on_sale),
        deliveries=purchases.deliveries,
        missing=purchases.missing,
        late=late,
        pulled=pull(portions),
        cost=purchases.cost,
        quoted=sum((portion.cost * portion.copies for portion in portions), Fraction(0)),
        problems=notes(priced, purchases, asked, late if today <= event.date else ()),
    )


def _late(on_sale: Sequence[Coming], today: dt.date) -> tuple[Thing, ...]:
    """Name what is sold in season, and by nobody who can still bring it in time."""
    in_time = {one.lot.thing for one in on_sale if one.can_come(today)}
    return tuple(dict.fromkeys(one.lot.thing for one in on_sale if one.lot.thing not in in_time))


def _rows(purchases: Purchases, on_sale: Sequence[Coming]) -> tuple[Row, ...]:
    arrivals = {(one.lot.thing, one.lot.index): one.arrival for one in on_sale}
    return tuple(Row(row, arrivals[row.lot.thing, row.lot.index]) for row in purchases.rows)
