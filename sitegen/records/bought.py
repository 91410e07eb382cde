"""The orders that were placed for an event, as its journal has them."""

from collections.abc import Sequence

from sitegen.order.placed import Placed, Placing, Unplaced
from sitegen.records.journal import Record


def placings(records: Sequence[Record]) -> tuple[Placing, ...]:
    """Give all placed orders that still count, the first first."""
    return tuple(
        Placing(record.day, record.body)
        for record in still_placed(records)
        if isinstance(record.body, Placed)
    )


def still_placed(records: Sequence[Record]) -> tuple[Record, ...]:
    """Give the records of placed orders that were not undone since."""
    undone = {record.body.record for record in records if isinstance(record.body, Unplaced)}
    return tuple(
        record for record in records if isinstance(record.body, Placed) and record.number not in undone
    )


def ever_placed(records: Sequence[Record]) -> tuple[Placed, ...]:
    """Give the bodies of all placed orders, also of those that were undone."""
    return tuple(record.body for record in records if isinstance(record.body, Placed))
