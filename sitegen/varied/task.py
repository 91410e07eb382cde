"""A deal in whole numbers: half stems, so that foliage may be halved, and costs in parts of money.

A row is what one recipe gets of each kind, in half stems.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from math import ceil, floor

from sitegen.values.number import in_parts
from sitegen.varied.asked import Asked

Row = list[int]
WHOLE = 2  # half stems in one


@dataclass(frozen=True, slots=True)
class Task:
    """So many recipes, each made as often as its weight; two different ones share at least `alike`.

    `steps` are the smallest parts that are given of each kind: 2 a whole stem, 1 a half. `limits` are the
    least and the most of each kind that a row may have.
    """

    weights: tuple[int, ...]
    totals: tuple[int, ...]
    steps: tuple[int, ...]
    costs: tuple[int, ...]
    same: Fraction
    alike: Fraction
    limits: tuple[tuple[int, int], ...]

    @property
    def copies(self) -> int:
        return sum(self.weights)

    @property
    def least_size(self) -> int:
        """The half stems of the smallest row: all alike, within one stem where that does not divide."""
        return sum(self.totals) // WHOLE // self.copies * WHOLE

    @property
    def most_size(self) -> int:
        exact = sum(self.totals) == self.least_size * self.copies
        return self.least_size if exact else self.least_size + WHOLE

    def must_share(self, size: int) -> int:
        """Half stems that two rows share at least, the larger of which has *size*."""
        needed = self.alike * (self.same + size) - self.same
        return max(0, -(-needed.numerator // needed.denominator))

    def holds(self, row: Sequence[int]) -> bool:
        """Tell whether a row is within the limits; exchanges leave it there."""
        return all(low <= n <= high for n, (low, high) in zip(row, self.limits, strict=True))

    def cost(self, row: Sequence[int]) -> int:
        return sum(n * cost for n, cost in zip(row, self.costs, strict=True))

    def spread(self, rows: Sequence[Sequence[int]]) -> int:
        costs = [self.cost(row) for row in rows]
        return max(costs) - min(costs)


def task_of(asked: Asked, versions: int) -> Task:
    """Set *asked* as a task of so many recipes, in whole stems."""
    each, more = divmod(asked.copies, versions)
    costs, _ = in_parts([kind.cost / WHOLE for kind in asked.kinds])
    return Task(
        weights=tuple(each + (i < more) for i in range(versions)),
        totals=tuple(kind.total * WHOLE for kind in asked.kinds),
        steps=(WHOLE,) * len(asked.kinds),
        costs=tuple(costs),
        same=asked.same * WHOLE,
        alike=asked.alike,
        limits=tuple(_limits(kind.total, asked) for kind in asked.kinds),
    )


def _limits(total: int, asked: Asked, times: int = 1) -> tuple[int, int]:
    """Keep a kind near its fair share: the less alike two may be, the farther it may stray.

    So a set keeps its look: of four roses each, none has none, and none has nine.
    """
    share = Fraction(total * WHOLE, asked.copies)
    stray = max(share * (1 - asked.alike), Fraction(WHOLE)) * times
    return max(0, ceil(share - stray)), floor(share + stray)


def wider(task: Task, asked: Asked) -> Task:
    """Let all stray twice as far."""
    return replace(task, limits=tuple(_limits(kind.total, asked, 2) for kind in asked.kinds))


def unlimited(task: Task) -> Task:
    """Let every row have as much or as little of a kind as there is."""
    return replace(task, limits=tuple((0, total) for total in task.totals))


def halved(task: Task, asked: Asked) -> Task:
    """Let what may be halved be given in halves."""
    return replace(task, steps=tuple(1 if kind.halves else WHOLE for kind in asked.kinds))


def shared(one: Sequence[int], other: Sequence[int]) -> int:
    return sum(map(min, one, other))
