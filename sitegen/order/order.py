"""The order of one event: what is needed, bought and pulled for its picks, as one value."""

import datetime as dt
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from sitegen.choices.picks import Picks
from sitegen.order.buy import buy
from sitegen.order.held import lacking
from sitegen.order.lots import Coming, coming, sellers, wants
from sitegen.order.market import Buyer, Lot, Purchases, Thing, Want
from sitegen.order.minimums import Task
from sitegen.order.need import Need, Portion, need
from sitegen.order.notes import below_minimum, notes
from sitegen.order.on_its_way import OnItsWay, asked_now, on_its_way, spent_on, still_sold
from sitegen.order.placed import Placing
from sitegen.order.pull import Block, between_pieces, pull
from sitegen.order.row import Row
from sitegen.order.set_notes import set_notes
from sitegen.order.sets import VariedSet, dealt
from sitegen.price.priced import PricedEvent
from sitegen.values.number import total
from sitegen.values.problem import Problem

__all__ = ["Order", "Row", "order", "order_of", "portions", "sets_at", "with_before"]


@dataclass(frozen=True, slots=True)
class Order:
    """Everything that one event's picks ask for. Private, whole.

    Money is exact, in whole units of the currency. `late` tells that something
    can no longer come in time, so lead days were left out for the whole order;
    `sets` are the varied sets by piece; `problems` are warnings that stop nothing.

    `rows`, `deliveries` and `cost` are the whole order as it will have been bought: what stays of all that
    was placed, which `before` knows, and what is still to be ordered, which is `added` and `added_fees`.
    What is added is proven to cost the least there is, but where `gap` says by how much it could be lower.
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
    gap: Fraction

    @property
    def to_send(self) -> tuple[str, ...]:
        """Name the suppliers who have to hear something now: of a new order, or what to add or cancel."""
        told = {row.supplier for row in (*self.added, *self.before.cancelled)}
        return tuple(name for name in self.priced.shared.suppliers if name in told)

    @property
    def in_hand(self) -> dict[Thing, Fraction]:
        """What of each thing is taken from stock: stems, pieces or metres."""
        return {want.thing: min(want.held, want.amount) for want in self.wanted if want.held}

    @property
    def spare(self) -> dict[str, int]:
        """Stems bought above what the need lacks, as the recipes name them; bought exactly counts 0.

        What was placed and no piece takes any more comes last.
        """
        got, held = self.bought_stems, self.in_hand
        needed = {name: n for name, n in self.need.stems.items() if name in got}
        return {
            name: max(0, n + int(held.get(Thing("stem", name), 0)) - needed.get(name, 0))
            for name, n in ((name, got[name]) for name in dict.fromkeys((*needed, *got)))
        }

    @property
    def lost(self) -> frozenset[Thing]:
        """Stems for which others stand in since the approval, and which no piece takes any more."""
        return _lost(self.portions, self.need)

    @property
    def bought_stems(self) -> dict[str, int]:
        got: dict[str, int] = {}
        for row in self.rows:
            if row.thing.kind == "stem":
                got[row.thing.id] = got.get(row.thing.id, 0) + int(row.amount)
        return got


def order(
    priced: PricedEvent,
    picks: Picks,
    today: dt.date,
    placings: Sequence[Placing] = (),
    buyer: Buyer = buy,
) -> Order:
    """Order what an event takes at *picks* beside what was placed, as it can still come on *today*."""
    return order_of(priced, portions(priced, picks), today, placings, buyer)


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


def sets_at(priced: PricedEvent, picks: Picks) -> dict[str, VariedSet]:
    """Deal the varied sets of an event at *picks*, by piece, as its order deals them."""
    if all(piece.file.piece.varied is None for piece in priced.pieces):
        return {}
    made = portions(priced, picks)
    return dealt(priced, made, between_pieces(made))


def order_of(
    priced: PricedEvent,
    portions: Sequence[Portion],
    today: dt.date,
    placings: Sequence[Placing] = (),
    buyer: Buyer = buy,
    among: Callable[[Lot], bool] | None = None,
) -> Order:
    """Order what *portions* of an event take, as it can still come on *today*, at the least cost.

    What *placings* bought stays, and only the rest is ordered, or the too much cancelled; nothing of either
    where the event is over or off. Where lead days leave something without any offer, the whole is ordered
    without them, and says so; of an event that is over they do not matter: it is the same on every day.
    *among* tells which offers to choose from; else it is all of them.
    """
    shared, event = priced.shared, priced.folder.event
    needed = need(portions, shared.stems, shared.goods, shared.studio.pricing.loss)
    wanted, lost = wants(needed, shared, event.date), _lost(portions, needed)
    over = event.closed is not None or event.date < today
    lacks = () if (settled := bool(placings) and over) else lacking(wanted, placings)
    on_sale = still_sold(_among(coming(needed, shared, event.date), among), lacks, placings, today)
    late = () if over else _late(on_sale, today)
    lots = [one.lot for one in on_sale if over or late or one.can_come(today)]
    task = Task(lacks, lots, asked_now(sellers(shared.suppliers), placings, today, lost))
    purchases = buyer(task.wants, task.lots, task.sellers)
    asked, spent = None if settled else wanted, spent_on(purchases)
    before = on_its_way(shared, placings, asked, spent, today, lost=lost)
    added = _rows(purchases, on_sale)
    rows, fees = (*before.rows, *added), _together(before.fees, purchases.deliveries)
    sets = dealt(priced, portions, totals := between_pieces(portions))
    told = () if over else notes(priced, task, purchases, on_sale, today, buyer, first=not placings)
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
        quoted=total(portion.cost * portion.copies for portion in portions),
        problems=(*told, *below_minimum(priced, before.short), *set_notes(priced, sets)),
        wanted=wanted,
        added=added,
        added_fees=purchases.deliveries,
        before=before,
        gap=purchases.gap,
    )


def with_before(order: Order, before: OnItsWay) -> Order:
    """Give an order of whose placed part something else stays than by itself."""
    rows, fees = (*before.rows, *order.added), _together(before.fees, order.added_fees)
    cost = total((*(row.cost for row in rows), *fees.values()))
    return replace(order, before=before, rows=rows, deliveries=fees, cost=cost)


def _lost(portions: Sequence[Portion], needed: Need) -> frozenset[Thing]:
    olds = (one.old for portion in portions for one in portion.made.stood_in)
    return frozenset(Thing("stem", name) for name in olds if name not in needed.stems)


def _together(one: Mapping[str, Fraction], other: Mapping[str, Fraction]) -> dict[str, Fraction]:
    return {**one, **{name: one.get(name, Fraction(0)) + fee for name, fee in other.items()}}


def _among(on_sale: Sequence[Coming], among: Callable[[Lot], bool] | None) -> tuple[Coming, ...]:
    return tuple(one for one in on_sale if among is None or among(one.lot))


def _late(on_sale: Sequence[Coming], today: dt.date) -> tuple[Thing, ...]:
    """Name what is sold in season, and by nobody who can still bring it in time."""
    in_time = {one.lot.thing for one in on_sale if one.can_come(today)}
    return tuple(dict.fromkeys(one.lot.thing for one in on_sale if one.lot.thing not in in_time))


def _rows(purchases: Purchases, on_sale: Sequence[Coming]) -> tuple[Row, ...]:
    arrivals = {(one.lot.thing, one.lot.index): one.arrival for one in on_sale}
    return tuple(Row(row, arrivals[row.lot.thing, row.lot.index]) for row in purchases.rows)
