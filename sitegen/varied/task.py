"""A deal in whole numbers: half stems, so that foliage may be halved, and costs in parts of money.

A row is what one recipe gets of each kind, in half stems.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from sitegen.values.number import in_parts
from sitegen.varied.asked import Asked

Row = list[int]
WHOLE = 2  # half stems in one


@dataclass(frozen=True, slots=True)
class Task:
    """So many recipes, each made as often as its weight; two different ones share at least `alike`.

    `steps` are the smallest parts that are given of each kind: 2 a whole stem, 1 a half.
    """

    weights: tuple[int, ...]
    totals: tuple[int, ...]
    steps: tuple[int, ...]
    costs: tuple[int, ...]
    same: Fraction
    alike: Fraction

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
    )


def halved(task: Task, asked: Asked) -> Task:
    """Let what may be halved be given in halves."""
    return replace(task, steps=tuple(1 if kind.halves else WHOLE for kind in asked.kinds))


def shared(one: Sequence[int], other: Sequence[int]) -> int:
    return sum(map(min, one, other))
