"""The order of one event: what is needed, bought and pulled for its picks, as one value."""

import datetime as dt
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from sitegen.choices.picks import Picks
from sitegen.order.buy import Purchases, Thing, Want, buy
from sitegen.order.held import lacking
from sitegen.order.lots import Coming, coming, sellers, wants
from sitegen.order.need import Need, Portion, need
from sitegen.order.notes import notes
from sitegen.order.on_its_way import OnItsWay, asked_now, on_its_way, still_sold
from sitegen.order.placed import Placing
from sitegen.order.pull import Block, between_pieces, pull
from sitegen.order.row import Row
from sitegen.order.set_notes import set_notes
from sitegen.order.sets import VariedSet, dealt
from sitegen.price.priced import PricedEvent
from sitegen.values.number import total
from sitegen.values.problem import Problem

__all__ = ["Order", "Row", "order", "order_of", "portions"]


@dataclass(frozen=True, slots=True)
class Order:
    """Everything that one event's picks ask for. Private, whole.

    Money is exact, in whole units of the currency. `late` tells that something
    can no longer come in time, so lead days were left out for the whole order;
    `sets` are the varied sets by piece; `problems` are warnings that stop nothing.

    `rows`, `deliveries` and `cost` are the whole order as it will have been bought: what stays of all that
    was placed, which `before` knows, and what is still to be ordered, which is `added` and `added_fees`.
    """

    priced: PricedEvent
    portions: tuple[Portion, ...]
    need: Need
    rows: tuple[Row, ...]
    deliveries: Mapping[str, Fraction]
    missing: tuple[Thing, ...]
    late: tuple[Thing, ...]
    sets: Mapping[str, VariedSet]
    pulled: tuple[Block, ...]
    cost: Fraction
    quoted: Fraction
    problems: tuple[Problem, ...]
    wanted: tuple[Want, ...]
    added: tuple[Row, ...]
    added_fees: Mapping[str, Fraction]
    before: OnItsWay

    @property
    def to_send(self) -> tuple[str, ...]:
        """Name the suppliers who have to hear something now: of a new order, or what to add or cancel."""
        told = {row.supplier for row in (*self.added, *self.before.cancelled)}
        return tuple(name for name in self.priced.shared.suppliers if name in told)

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
                got[row.thing.id] = got.get(row.thing.id, 0) + int(row.amount)
        return got


def order(priced: PricedEvent, picks: Picks, today: dt.date, placings: Sequence[Placing] = ()) -> Order:
    """Order what an event takes at *picks* beside what was placed, as it can still come on *today*."""
    return order_of(priced, portions(priced, picks), today, placings)


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


def order_of(
    priced: PricedEvent, portions: Sequence[Portion], today: dt.date, placings: Sequence[Placing] = ()
) -> Order:
    """Order what *portions* of an event take, as it can still come on *today*.

    What *placings* bought already stays, and only the rest is ordered, or the too much cancelled; nothing of
    either where the event is over, declined or cancelled. Where lead days leave something without any offer,
    the whole order is made without them, and says so.
    """
    shared, event = priced.shared, priced.folder.event
    needed = need(portions, shared.stems, shared.goods, shared.studio.pricing.loss)
    wanted = wants(needed, shared)
    settled = bool(placings) and (event.closed is not None or event.date < today)
    lacks = () if settled else lacking(wanted, placings)
    on_sale = still_sold(coming(needed, shared, event.date), lacks, placings, today)
    late = _late(on_sale, today)
    lots = on_sale if late else [one for one in on_sale if one.can_come(today)]
    asked = asked_now(sellers(shared.suppliers), placings, today)
    purchases = buy(lacks, [one.lot for one in lots], asked)
    before = on_its_way(shared, placings, None if settled else wanted, purchases, today)
    added = _rows(purchases, on_sale)
    rows, fees = (*before.rows, *added), _together(before.fees, purchases.deliveries)
    totals = between_pieces(portions)
    sets = dealt(priced, portions, totals)
    return Order(
        priced=replace(priced, shared=before.shared) if placings else priced,
        portions=tuple(portions),
        need=needed,
        rows=rows,
        deliveries=fees,
        missing=purchases.missing,
        late=late,
        sets=sets,
        pulled=pull(portions, totals, sets),
        cost=total((*(row.cost for row in rows), *fees.values())),
        quoted=sum((portion.cost * portion.copies for portion in portions), Fraction(0)),
        problems=(
            *notes(priced, purchases, asked, late if today <= event.date else ()),
            *set_notes(priced, sets),
        ),
        wanted=wanted,
        added=added,
        added_fees=purchases.deliveries,
        before=before,
    )


def _together(one: Mapping[str, Fraction], other: Mapping[str, Fraction]) -> dict[str, Fraction]:
    return {**one, **{name: one.get(name, Fraction(0)) + fee for name, fee in other.items()}}


def _late(on_sale: Sequence[Coming], today: dt.date) -> tuple[Thing, ...]:
    """Name what is sold in season, and by nobody who can still bring it in time."""
    in_time = {one.lot.thing for one in on_sale if one.can_come(today)}
    return tuple(dict.fromkeys(one.lot.thing for one in on_sale if one.lot.thing not in in_time))


def _rows(purchases: Purchases, on_sale: Sequence[Coming]) -> tuple[Row, ...]:
    arrivals = {(one.lot.thing, one.lot.index): one.arrival for one in on_sale}
    return tuple(Row(row, arrivals[row.lot.thing, row.lot.index]) for row in purchases.rows)
