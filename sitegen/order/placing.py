"""From an order as it stands to the record that it was placed."""

from dataclasses import replace
from math import ceil

from sitegen.model.content import Shared
from sitegen.order.held import covers_of
from sitegen.order.order import Order
from sitegen.order.passing import Passed
from sitegen.order.placed import Bought, Cancelled, Fee, Given, Other, Placed
from sitegen.order.row import Row
from sitegen.order.together import Together
from sitegen.values.length import Length


def placed_now(order: Order) -> Placed | None:
    """Give what placing *order* as it stands buys and cancels; None where it does neither."""
    before = order.before
    if not order.added and not before.cancelled:
        return None
    fees = [Fee(name, fee) for name, fee in order.added_fees.items()]
    fees += [Fee(name, -fee) for name, fee in before.waived.items() if fee]
    return Placed(
        rows=tuple(bought(order.priced.shared, row) for row in order.added),
        cancelled=_cancelled(order),
        fees=tuple(fees),
        covers=covers_of(order.wanted, order.missing),
    )


def placed_together(made: Together) -> dict[int, Placed]:
    """Give what placing an order for several records of each event, by its index: its own part, to the cent.

    Of an event of which there is nothing to add or to cancel, nothing is recorded.
    """
    alone = {i: one for i in range(len(made.orders)) if (one := _part(made, i))}
    ids = [order.priced.folder.id for order in made.orders]
    return {
        i: replace(own, together=tuple(Other(ids[j], other) for j, other in alone.items() if j != i))
        for i, own in alone.items()
    }


def _part(made: Together, event: int) -> Placed | None:
    order, mine = made.orders[event], [one for one in made.rows if event in one.parts]
    rows = [replace(one.row, part=one.parts[event]) for one in mine if one.parts[event].amount]
    taken = [one for one in made.passed if one.taker == event]
    given = [one for one in made.passed if one.giver == event]
    if not rows and not order.before.cancelled and not taken and not given:
        return None
    fees = [Fee(name, fee) for name, fee in made.fee_parts[event].items()]
    fees += [Fee(name, -fee) for name, fee in order.before.waived.items() if fee]
    return Placed(
        rows=(
            *(bought(made.shared, row) for row in rows),
            *(_taken_over(one, made.orders[one.giver].priced.folder.id) for one in taken),
        ),
        cancelled=_cancelled(order),
        fees=tuple(fees),
        covers=covers_of(order.wanted, made.missing),
        given=tuple(_given(one, made.orders[one.taker].priced.folder.id) for one in given),
    )


def _taken_over(one: Passed, giver: str) -> Bought:
    was = one.holding.bought
    packs = ceil(one.amount / was.size)
    since, first = one.holding.day, was.bought_for or giver
    return replace(was, packs=packs, amount=one.amount, cost=one.cost, bought_for=first, since=since)


def _given(one: Passed, taker: str) -> Given:
    return Given(one.holding.placing, one.holding.row, one.amount, one.cost, taker)


def _cancelled(order: Order) -> tuple[Cancelled, ...]:
    return tuple(Cancelled(one.holding.placing, one.holding.row, one.packs) for one in order.before.gone)


def bought(shared: Shared, row: Row) -> Bought:
    """Write down a row with all that the catalogue in which it stands knows of its lot."""
    lot = row.bought.lot
    length: Length | None = None
    about = False
    if row.thing.kind == "stem":
        stem = shared.stems[row.thing.id]
        name, sold_as = stem.name, stem.offers[lot.index].sold_as
        about = stem.offers[lot.index].bunch.about
    else:
        good = shared.goods[row.thing.id]
        name, sold_as = good.name, good.packs[lot.index].sold_as
        length = good.packs[lot.index].length
    return Bought(
        kind=row.thing.kind,
        id=row.thing.id,
        name=name,
        supplier=row.supplier,
        supplier_name=shared.suppliers[row.supplier].name,
        size=lot.size,
        price=lot.price,
        packs=row.bought.packs,
        amount=row.amount,
        cost=row.cost,
        breaks=lot.breaks,
        length=length,
        about=about,
        sold_as=sold_as,
        day=row.arrival.day if row.arrival else None,
        order_by=row.arrival.order_by if row.arrival else None,
    )
