"""The orders that were placed for an event, as its journal has them."""

from collections.abc import Sequence

from sitegen.order.placed import Placed, Placing
from sitegen.records.journal import Record


def placings(records: Sequence[Record]) -> tuple[Placing, ...]:
    """Give all placed orders, the first first."""
    return tuple(Placing(record.day, record.body) for record in records if isinstance(record.body, Placed))
