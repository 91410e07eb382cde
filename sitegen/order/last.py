"""The order of an event that is over, as it was last made: what the market does since does not matter."""

from collections.abc import Mapping, Sequence
from dataclasses import replace

from sitegen.order.held import covers_of
from sitegen.order.market import Lot, Purchase, Purchases, Seller, Want
from sitegen.order.offered import with_bought
from sitegen.order.on_its_way import arrival_of
from sitegen.order.order import Order
from sitegen.order.placed import Placed
from sitegen.order.row import Row
from sitegen.values.number import total


def nothing_bought(_wants: Sequence[Want], _lots: Sequence[Lot], _sellers: Mapping[str, Seller]) -> Purchases:
    """A buyer for an order whose purchases are known already."""
    return Purchases((), {})


def as_it_was(bare: Order, last: Placed) -> Order | None:
    """Give *bare*, for which nothing was bought, with what was *last* to be bought; None if needs differ."""
    if covers_of(bare.wanted) != last.covers:
        return None
    shared, lots = with_bought(bare.priced.shared, last.rows)
    both = zip(last.rows, lots, strict=True)
    rows = tuple(Row(Purchase(lot, one.packs), arrival_of(one)) for one, lot in both)
    fees = {fee.supplier: fee.cost for fee in last.fees}
    return replace(
        bare,
        priced=replace(bare.priced, shared=shared),
        rows=rows,
        deliveries=fees,
        missing=(),
        cost=total((*(row.cost for row in rows), *fees.values())),
        added=rows,
        added_fees=fees,
    )
