"""What two rows can exchange: stem for stem, and where it is allowed half for half."""

from collections.abc import Iterator
from itertools import permutations

from sitegen.varied.table import Exchange
from sitegen.varied.task import WHOLE, Task


def singles(task: Task) -> tuple[Exchange, ...]:
    """One stem of a kind for one of another; half a stem for half a stem where both may be halved."""
    return tuple(_singles(task))


def _singles(task: Task) -> Iterator[Exchange]:
    for gives, takes in permutations(range(len(task.totals)), 2):
        yield (gives, -WHOLE), (takes, WHOLE)
        if task.steps[gives] == task.steps[takes] == 1:
            yield (gives, -1), (takes, 1)


def both(one: Exchange, other: Exchange) -> Exchange:
    """Make two exchanges one."""
    merged: dict[int, int] = {}
    for kind, n in (*one, *other):
        merged[kind] = merged.get(kind, 0) + n
    return tuple((kind, n) for kind, n in merged.items() if n)


def saves(task: Task, exchange: Exchange) -> int:
    """Give what a row costs less after *exchange*, made once."""
    return -sum(n * task.costs[kind] for kind, n in exchange)
