"""What was placed as rows of an order: what stays, what is to be cancelled, which deliveries are paid for."""

import datetime as dt
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from fractions import Fraction

from sitegen.model.content import Shared
from sitegen.order.buy import Lot, Purchase, Purchases, Seller, Thing, Want
from sitegen.order.calendar import Arrival
from sitegen.order.held import Gone, from_same_growers, no_longer_needed, not_coming
from sitegen.order.lots import Coming
from sitegen.order.offered import with_bought
from sitegen.order.placed import Bought, Holding, Placing, fees_of, holdings
from sitegen.order.row import Part, Row
from sitegen.values.number import total


@dataclass(frozen=True, slots=True)
class OnItsWay:
    """Rows that stay and rows to cancel. `fees` are the deliveries paid for, `waived` those to be given back.

    `shared` is the catalogue in which each row has its offer. `gone` says of which placing's rows each of
    `cancelled` takes packs; those of the things that are `lost` will not come, whether needed or not. `short`
    says what is left at a supplier whose minimum was reached, and is no more.
    """

    shared: Shared
    placings: tuple[Placing, ...] = ()
    rows: tuple[Row, ...] = ()
    cancelled: tuple[Row, ...] = ()
    gone: tuple[Gone, ...] = ()
    fees: Mapping[str, Fraction] = field(default_factory=dict)
    waived: Mapping[str, Fraction] = field(default_factory=dict)
    lost: frozenset[Thing] = frozenset()
    short: Mapping[str, Fraction] = field(default_factory=dict)

    @property
    def to_cancel(self) -> tuple[Row, ...]:
        """What their suppliers are to be told not to send, though they could."""
        return tuple(row for row in self.cancelled if row.thing not in self.lost)

    @property
    def not_coming(self) -> tuple[Row, ...]:
        return tuple(row for row in self.cancelled if row.thing in self.lost)


def still_sold(
    on_sale: Iterable[Coming], wants: Iterable[Want], placings: Sequence[Placing], today: dt.date
) -> tuple[Coming, ...]:
    """Give the lots of what is lacking; of a stem on its way, its own grower's where these can come."""
    mixed = {want.thing: want.mix or want.thing.kind == "good" for want in wants}
    lots = tuple(one for one in on_sale if one.lot.thing in mixed)
    same = from_same_growers([thing for thing, mix in mixed.items() if not mix], placings)
    able = {
        one.lot.thing
        for one in lots
        if one.lot.supplier in same.get(one.lot.thing, ()) and one.can_come(today)
    }
    return tuple(one for one in lots if one.lot.thing not in able or one.lot.supplier in same[one.lot.thing])


def asked_now(
    sellers: Mapping[str, Seller],
    placings: Sequence[Placing],
    today: dt.date,
    lost: Collection[Thing] = (),
) -> dict[str, Seller]:
    """What each supplier still asks: of one whose delivery is on its way, neither a fee nor a minimum."""
    coming = {
        one.bought.supplier
        for one in holdings(placings)
        if one.bought.thing not in lost and (one.bought.day is None or one.bought.day >= today)
    }
    return {name: Seller() if name in coming else seller for name, seller in sellers.items()}


def on_its_way(
    shared: Shared,
    placings: Sequence[Placing],
    wants: Iterable[Want] | None,
    spent: Mapping[str, Fraction],
    today: dt.date,
    *,
    lost: frozenset[Thing] = frozenset(),
    elsewhere: Mapping[str, Fraction] | None = None,
) -> OnItsWay:
    """Say what of all *placings* stays, so that *wants* are covered, when so much is *spent* beside them.

    Without *wants* all of it stays. What is *lost* does not come, whatever is wanted. Towards a supplier's
    minimum counts what other events have *elsewhere* there too.
    """
    if not placings:
        return OnItsWay(shared)
    counted = _summed(spent, elsewhere or {})
    least = {name: one.minimum for name, one in shared.suppliers.items()}
    gone: tuple[Gone, ...] = ()
    if wants is not None:
        fell = no_longer_needed(wants, placings, least, counted, today, lost)
        gone = (*not_coming(lost, placings), *fell)
    left = {(one.holding.placing, one.holding.row): one.left for one in gone}
    held = holdings(placings)
    known, lots = with_bought(shared, (one.bought for one in held))
    lot_of = {(one.placing, one.row): lot for one, lot in zip(held, lots, strict=True)}
    stays = [replace(one, bought=left.get((one.placing, one.row), one.bought)) for one in held]
    fees = fees_of(placings)
    used = {one.bought.supplier for one in stays if one.bought.amount} | spent.keys()
    return OnItsWay(
        shared=known,
        placings=tuple(placings),
        rows=tuple(_stays(one, lot_of[one.placing, one.row]) for one in stays if one.bought.amount),
        cancelled=tuple(_cancelled(one, lot_of[one.holding.placing, one.holding.row]) for one in gone),
        gone=gone,
        fees={name: fee for name, fee in fees.items() if name in used},
        waived={name: fee for name, fee in fees.items() if fee and name not in used},
        lost=frozenset(one.holding.bought.thing for one in gone if one.lost),
        short=_short(held, gone, counted, least),
    )


def _summed(one: Mapping[str, Fraction], other: Mapping[str, Fraction]) -> dict[str, Fraction]:
    return {name: one.get(name, Fraction(0)) + other.get(name, Fraction(0)) for name in {**one, **other}}


def _short(
    held: Iterable[Holding],
    gone: Sequence[Gone],
    spent: Mapping[str, Fraction],
    least: Mapping[str, Fraction],
) -> dict[str, Fraction]:
    """What is left at each supplier whose minimum is no longer reached by what is taken back."""
    found = {}
    for name in dict.fromkeys(one.holding.bought.supplier for one in gone):
        costs = (one.bought.cost for one in held if one.bought.supplier == name)
        was = total((*costs, spent.get(name, Fraction(0))))
        left = was - total(one.saved for one in gone if one.holding.bought.supplier == name)
        if 0 < left < least.get(name, Fraction(0)) <= was:
            found[name] = left
    return found


def spent_on(bought: Purchases) -> dict[str, Fraction]:
    """Give what each supplier is paid for packs."""
    return {name: bought.spent_at(name) for name in bought.deliveries}


def _stays(one: Holding, lot: Lot) -> Row:
    bought = one.bought
    part = None if bought.whole else Part(bought.amount, bought.cost)
    return Row(Purchase(lot, bought.packs), arrival_of(bought), one.day, part)


def _cancelled(gone: Gone, lot: Lot) -> Row:
    bought = gone.holding.bought
    part = Part(bought.amount - gone.left.amount, gone.saved)
    return Row(Purchase(lot, gone.packs), arrival_of(bought), gone.holding.day, part)


def arrival_of(bought: Bought) -> Arrival | None:
    return Arrival(bought.day, bought.order_by or bought.day) if bought.day else None
