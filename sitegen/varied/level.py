"""Evens out what the rows of a deal cost, without breaking a rule."""

from bisect import bisect_left
from collections.abc import Iterator, Sequence
from itertools import islice
from typing import TypeAlias

from sitegen.varied.exchanges import both, saves, singles
from sitegen.varied.table import BROKEN, Exchange, Table

_MOST_MOVES = 60
_PARTNERS = 5
_LOOKED_AT = 40
_MOST_PAIRED = 400  # so many exchanges come near enough without a second one

Saving: TypeAlias = tuple[int, Exchange]


def level(table: Table) -> None:
    """Exchange stems between dear and cheap rows while that brings the dearest and the cheapest nearer.

    Each time the dearest row, or the cheapest, makes the exchange of one or two stems after which it and
    the other row cost most nearly the same.
    """
    ones = sorted((saves(table.task, one), one) for one in singles(table.task))
    for _ in range(_MOST_MOVES):
        if not _one_move(table, ones):
            break


def _one_move(table: Table, ones: Sequence[Saving]) -> bool:
    by_cost = sorted(range(len(table.rows)), key=lambda i: (table.costs[i], i))
    low, high = by_cost[0], by_cost[-1]
    dear = ((high, j) for j in by_cost[:-1][:_PARTNERS])
    cheap = ((i, low) for i in by_cost[1:-1][: -_PARTNERS - 1 : -1])
    for i, j in (*dear, *cheap):
        found = _best(table, i, j, ones)
        if found is not None:
            table.make(i, j, found)
            return True
    return False


def _best(table: Table, i: int, j: int, ones: Sequence[Saving]) -> Exchange | None:
    """Find the allowed exchange after which rows *i* and *j*, the cheaper one, cost most nearly the same."""
    gap = table.costs[i] - table.costs[j]
    a, b = table.times(i, j)
    can = [one for one in ones if table.can(i, j, one[1])]
    ways = (
        (abs(gap - (a + b) * saved), one)
        for saved, one in _ways(can, gap // (a + b))
        if 0 < saved * max(a, b) < gap
    )
    for _, exchange in islice(sorted(ways), _LOOKED_AT):
        if table.can(i, j, exchange) and table.change(i, j, exchange) < BROKEN // 2:
            return exchange
    return None


def _ways(ones: Sequence[Saving], ideal: int) -> Iterator[Saving]:
    """Give all exchanges, and with each the two others that together with it come nearest to *ideal*."""
    amounts = [saved for saved, _ in ones]
    for saved, one in ones:
        yield saved, one
        if len(ones) > _MOST_PAIRED:
            continue
        at = bisect_left(amounts, ideal - saved)
        for more, other in ones[max(0, at - 1) : at + 1]:
            yield saved + more, both(one, other)
