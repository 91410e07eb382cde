"""What was placed as rows of an order: what stays, what is to be cancelled, which deliveries are paid for."""

import datetime as dt
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from fractions import Fraction

from sitegen.model.content import Shared
from sitegen.order.buy import Lot, Purchase, Purchases, Seller, Want
from sitegen.order.calendar import Arrival
from sitegen.order.held import Gone, from_same_growers, no_longer_needed
from sitegen.order.lots import Coming
from sitegen.order.offered import with_bought
from sitegen.order.placed import Bought, Holding, Placing, fees_of, holdings
from sitegen.order.row import Part, Row


@dataclass(frozen=True, slots=True)
class OnItsWay:
    """Rows that stay and rows to cancel. `fees` are the deliveries paid for, `waived` those to be given back.

    `shared` is the catalogue in which each row has its offer. `gone` says of which placing's rows each of
    `cancelled` takes packs.
    """

    shared: Shared
    placings: tuple[Placing, ...] = ()
    rows: tuple[Row, ...] = ()
    cancelled: tuple[Row, ...] = ()
    gone: tuple[Gone, ...] = ()
    fees: Mapping[str, Fraction] = field(default_factory=dict)
    waived: Mapping[str, Fraction] = field(default_factory=dict)


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
    sellers: Mapping[str, Seller], placings: Sequence[Placing], today: dt.date
) -> dict[str, Seller]:
    """What each supplier still asks: of one whose delivery is on its way, neither a fee nor a minimum."""
    coming = {
        one.bought.supplier for one in holdings(placings) if one.bought.day is None or one.bought.day >= today
    }
    return {name: Seller() if name in coming else seller for name, seller in sellers.items()}


def on_its_way(
    shared: Shared,
    placings: Sequence[Placing],
    wants: Iterable[Want] | None,
    bought: Purchases,
    today: dt.date,
) -> OnItsWay:
    """Say what of all *placings* stays beside what is *bought* now, so that *wants* are covered.

    Without *wants* all of it stays.
    """
    if not placings:
        return OnItsWay(shared)
    least = {name: one.minimum for name, one in shared.suppliers.items()}
    gone = () if wants is None else no_longer_needed(wants, placings, least, _spent(bought), today)
    left = {(one.holding.placing, one.holding.row): one.left for one in gone}
    held = holdings(placings)
    known, lots = with_bought(shared, (one.bought for one in held))
    lot_of = {(one.placing, one.row): lot for one, lot in zip(held, lots, strict=True)}
    stays = [replace(one, bought=left.get((one.placing, one.row), one.bought)) for one in held]
    fees = fees_of(placings)
    used = {one.bought.supplier for one in stays if one.bought.amount} | bought.deliveries.keys()
    return OnItsWay(
        shared=known,
        placings=tuple(placings),
        rows=tuple(_stays(one, lot_of[one.placing, one.row]) for one in stays if one.bought.amount),
        cancelled=tuple(_cancelled(one, lot_of[one.holding.placing, one.holding.row]) for one in gone),
        gone=gone,
        fees={name: fee for name, fee in fees.items() if name in used},
        waived={name: fee for name, fee in fees.items() if fee and name not in used},
    )


def _spent(bought: Purchases) -> dict[str, Fraction]:
    spent: dict[str, Fraction] = {}
    for row in bought.rows:
        spent[row.lot.supplier] = spent.get(row.lot.supplier, Fraction(0)) + row.cost
    return spent


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
