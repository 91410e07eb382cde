"""Small sets whole: all rows there could be, and all ways to choose among them."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from itertools import islice

from sitegen.varied.task import Row, Task, shared

MOST_CHOSEN = 12
_MOST_ROWS = 400
_MOST_STEPS = 12_000


@dataclass(slots=True)
class _Search:
    """What is known while looking: rows by rising cost, the best choice so far, the steps that are left."""

    task: Task
    rows: Sequence[Row]
    costs: Sequence[int]
    at: dict[tuple[int, ...], int]
    must: dict[int, int]
    best: int
    found: tuple[Row, ...] | None
    steps: int = _MOST_STEPS
    chosen: list[int] = field(default_factory=list)


def exact(task: Task, rows: Sequence[Row], known: Sequence[Row] | None) -> tuple[Row, ...] | None:
    """Choose among *rows* some that hold the rules and differ less in cost than those that are *known*.

    Gives what is known where there are none. Gives up after the same number of steps on every machine.
    """
    by_cost = sorted(rows, key=lambda row: (task.cost(row), row))
    best = sum(task.totals) * max(task.costs, default=0) + 1 if known is None else task.spread(known)
    search = _Search(
        task=task,
        rows=by_cost,
        costs=[task.cost(row) for row in by_cost],
        at={tuple(row): i for i, row in enumerate(by_cost)},
        must={size: task.must_share(size) for size in {sum(row) for row in rows}},
        best=best,
        found=None if known is None else tuple(known),
    )
    _look(search, list(task.totals))
    return search.found


def all_rows(task: Task) -> list[Row] | None:
    """Give all rows of a size that is allowed; None where there are more than can be looked at."""
    rows = list(islice(_rows(task), _MOST_ROWS + 1))
    return rows if len(rows) <= _MOST_ROWS else None


def _rows(task: Task) -> Iterator[Row]:
    sizes = range(task.least_size, task.most_size + 1)

    def fill(row: Row, left: range, kind: int) -> Iterator[Row]:
        if kind == len(task.totals):
            if left.start <= 0 < left.stop:
                yield row
            return
        rest = sum(task.totals[kind + 1 :])
        step, (low, high) = task.steps[kind], task.limits[kind]
        for n in range(-(-low // step) * step, min(task.totals[kind], high, left.stop - 1) + 1, step):
            if left.start - n <= rest:
                yield from fill([*row, n], range(left.start - n, left.stop - n), kind + 1)

    return fill([], sizes, 0)


def _look(search: _Search, left: list[int]) -> None:
    """Choose the next row from those that are dearer than the last of its weight."""
    weights, chosen = search.task.weights, search.chosen
    place = len(chosen)
    if place == len(weights):
        search.found = tuple(search.rows[i] for i in chosen)
        search.best = search.task.spread(search.found)
        return
    weight = weights[place]
    follows = place > 0 and weights[place - 1] == weight
    for i in _next(search, left, chosen[-1] + 1 if follows else 0):
        search.steps -= 1
        if search.steps <= 0 or search.best == 0:
            return
        rest = [n - weight * mine for n, mine in zip(left, search.rows[i], strict=True)]
        if min(rest) >= 0 and _goes_with(search, i):
            chosen.append(i)
            _look(search, rest)
            chosen.pop()


def _next(search: _Search, left: list[int], start: int) -> Iterator[int]:
    """Rows that may stand next: the last one is what is left, and none is too dear beside the others."""
    chosen, weights = search.chosen, search.task.weights
    if len(chosen) == len(weights) - 1:
        row = tuple(n // weights[-1] for n in left)
        if all(n % weights[-1] == 0 for n in left) and search.at.get(row, -1) >= start:
            yield search.at[row]
        return
    low = min((search.costs[i] for i in chosen), default=None)
    for i in range(start, len(search.rows)):
        if low is not None and search.costs[i] - low >= search.best:
            return
        yield i


def _goes_with(search: _Search, i: int) -> bool:
    """Tell whether a row may stand beside all that are chosen."""
    rows, costs = search.rows, search.costs
    for k in search.chosen:
        if i == k or abs(costs[i] - costs[k]) >= search.best:
            return False
        if shared(rows[i], rows[k]) < search.must[max(sum(rows[i]), sum(rows[k]))]:
            return False
    return True
