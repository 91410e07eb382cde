"""The rows of a deal while it is being made, with what every two of them share."""

from collections.abc import Iterator, Sequence
from math import gcd
from typing import TypeAlias

from sitegen.varied.task import WHOLE, Row, Task, shared

Exchange: TypeAlias = tuple[tuple[int, int], ...]
"""Kinds, and how many half stems more a row gets of each; all of one add up to nothing."""

BROKEN = 10**9  # what a pair weighs that breaks a rule: above all good pairs together


class Table:
    """The rows of a deal. Exchanges between two rows keep all totals, and the size of every row."""

    def __init__(self, task: Task, rows: Sequence[Sequence[int]]) -> None:
        self.task = task
        self.rows: list[Row] = [list(row) for row in rows]
        self.costs = [task.cost(row) for row in rows]
        self.shared = [[shared(one, other) for other in self.rows] for one in self.rows]
        sizes = [sum(row) for row in rows]
        known = {(a, b): _weights(task, a, b) for a in set(sizes) for b in set(sizes)}
        self._weights = [[known[a, b] for b in sizes] for a in sizes]

    def times(self, i: int, j: int) -> tuple[int, int]:
        """Say how often rows *i* and *j* make an exchange, so that what is made of both stays the same."""
        one, other = self.task.weights[i], self.task.weights[j]
        common = gcd(one, other)
        return other // common, one // common

    def can(self, i: int, j: int, exchange: Exchange) -> bool:
        """Tell whether row *i* can take from row *j*, and give it, what *exchange* says."""
        one, other = self.rows[i], self.rows[j]
        a, b = self.times(i, j)
        limits = self.task.limits
        return all(
            limits[kind][0] <= one[kind] + a * n <= limits[kind][1]
            and limits[kind][0] <= other[kind] - b * n <= limits[kind][1]
            for kind, n in exchange
        )

    @property
    def worth(self) -> int:
        """Weigh all pairs: least where two differ about as much as they may, `BROKEN` against a rule."""
        n = len(self.rows)
        return sum(self._weights[i][j][self.shared[i][j]] for i in range(n) for j in range(i))

    def change(self, i: int, j: int, exchange: Exchange) -> int:
        """Give by how much an exchange changes the worth."""
        one, other = self.rows[i], self.rows[j]
        a, b = self.times(i, j)
        mine = [(kind, one[kind], one[kind] + a * n) for kind, n in exchange]
        theirs = [(kind, other[kind], other[kind] - b * n) for kind, n in exchange]
        both = sum(
            min(now, then) - min(before, was)
            for (_, before, now), (_, was, then) in zip(mine, theirs, strict=True)
        )
        between = self._weights[i][j]
        change = between[self.shared[i][j] + both] - between[self.shared[i][j]]
        for k, moves in ((i, mine), (j, theirs)):
            for weights, together, row in self._others(k, i, j):
                now = together
                for kind, before, after in moves:
                    now += min(after, row[kind]) - min(before, row[kind])
                change += weights[now] - weights[together]
        return change

    def _others(self, k: int, i: int, j: int) -> Iterator[tuple[Sequence[int], int, Row]]:
        both = zip(self._weights[k], self.shared[k], self.rows, strict=True)
        return (one for at, one in enumerate(both) if at not in {i, j})

    def make(self, i: int, j: int, exchange: Exchange) -> None:
        a, b = self.times(i, j)
        for kind, n in exchange:
            self.rows[i][kind] += a * n
            self.rows[j][kind] -= b * n
        for k in (i, j):
            self.costs[k] = self.task.cost(self.rows[k])
            for other, row in enumerate(self.rows):
                self.shared[k][other] = self.shared[other][k] = shared(self.rows[k], row)


def _weights(task: Task, one: int, other: int) -> tuple[int, ...]:
    """What a pair of rows of these sizes weighs for each number of half stems that they share.

    Pairs are to share about half of what lies between the least they must and all they could.
    """
    must, most = task.must_share(max(one, other)), min(one, other)
    wanted = (must + most) // 2
    weights = [
        BROKEN * (must - n) if n < must else max(0, abs(n - wanted) - WHOLE) ** 2 for n in range(most + 1)
    ]
    if one == other:
        weights[most] = BROKEN * max(1, must - most)
    return tuple(weights)
