"""Payments once money came in: that stays as it was received, and the last takes up every difference."""

from collections.abc import Sequence
from dataclasses import replace
from itertools import accumulate

from sitegen.choices.table import Part, Table


def settled(planned: Sequence[int], received: int) -> int:
    """Count the payments that money received stands for; never the last, which takes the rest.

    Totals move after a payment was made, so it need not be met to the cent: the nearest sum of *planned* ones
    counts, in smallest units.

    >>> settled([180_000, 180_000, 240_000], 150_000)
    1
    """
    sums = [0, *accumulate(planned[:-1])]
    return min(range(len(sums)), key=lambda count: abs(sums[count] - received))


def with_received(table: Table, received: int, count: int) -> Table:
    """Put what was *received* in the place of the first *count* payments; nothing changes it any more."""
    return replace(table, payments=(Part(None, received), *table.payments[count:]))
