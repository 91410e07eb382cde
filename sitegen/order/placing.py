"""From an order as it stands to the record that it was placed."""

from collections.abc import Iterable

from sitegen.order.held import counted
from sitegen.order.order import Order
from sitegen.order.placed import Bought, Cancelled, Covered, Fee, Placed
from sitegen.order.row import Row
from sitegen.values.length import Length


def placed_now(order: Order) -> Placed | None:
    """Give what placing *order* as it stands buys and cancels; None where it does neither."""
    before = order.before
    if not order.added and not before.cancelled:
        return None
    fees = [Fee(name, fee) for name, fee in order.added_fees.items()]
    fees += [Fee(name, -fee) for name, fee in before.waived.items() if fee]
    return Placed(
        rows=tuple(bought(order, row) for row in order.added),
        cancelled=tuple(Cancelled(one.holding.placing, one.holding.row, one.packs) for one in before.gone),
        fees=tuple(fees),
        covers=tuple(_covers(order)),
    )


def bought(order: Order, row: Row) -> Bought:
    """Write down a row with all that is known of its lot today."""
    shared, lot = order.priced.shared, row.bought.lot
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


def _covers(order: Order) -> Iterable[Covered]:
    """All that is wanted is covered from now on, but what nobody sells."""
    for want in order.wanted:
        if want.thing not in order.missing:
            yield Covered(want.thing.kind, want.thing.id, want.amount, counted(want.cuts))
