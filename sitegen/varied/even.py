"""The even start of a deal: each kind shared out in nearly equal parts, and the rows equally large."""

from collections.abc import Iterator, Sequence

from sitegen.varied.task import Row, Task


def even(task: Task) -> list[Row] | None:
    """Share the totals as evenly as they go; None where so many recipes cannot hold them.

    What does not divide goes to the rows with the fewest stems so far.
    """
    rows: list[Row] = [[] for _ in task.weights]
    for total, step in zip(task.totals, task.steps, strict=True):
        each, rest = divmod(total // step, task.copies)
        sizes = [sum(row) for row in rows]
        ways = [given for given in _ways(task.weights, rest, sizes) if min(given) + each >= 0]
        if not ways:
            return None
        _, given = min((_rank(sizes, way, step), way) for way in ways)
        for row, more in zip(rows, given, strict=True):
            row.append((each + more) * step)
    sizes = [sum(row) for row in rows]
    fits = task.least_size <= min(sizes) and max(sizes) <= task.most_size
    return rows if fits else None


def _rank(sizes: Sequence[int], given: Sequence[int], step: int) -> tuple[int, int]:
    after = [size + n * step for size, n in zip(sizes, given, strict=True)]
    return max(after) - min(after), sum(map(abs, given))


def _ways(weights: Sequence[int], rest: int, sizes: Sequence[int]) -> Iterator[list[int]]:
    """Ways to give each row so many more or fewer that all rows, as often as they are made, take *rest*.

    Rows are made as often as the first, or once less: what the first ones take leaves one way for the rest.
    """
    often = [i for i, weight in enumerate(weights) if weight == weights[0]]
    less = [i for i, weight in enumerate(weights) if weight != weights[0]]
    if not less:
        if rest % weights[0] == 0:
            yield _fewest_first(((often, rest // weights[0]),), sizes)
        return
    for one in range(-len(often), 2 * len(often) + 1):
        other, odd = divmod(rest - one * weights[0], weights[0] - 1)
        if not odd and abs(other) <= 2 * len(less):
            yield _fewest_first(((often, one), (less, other)), sizes)


def _fewest_first(groups: Sequence[tuple[list[int], int]], sizes: Sequence[int]) -> list[int]:
    given = [0] * len(sizes)
    for rows, total in groups:
        each, more = divmod(total, len(rows))
        for place, i in enumerate(sorted(rows, key=lambda i: (sizes[i], i))):
            given[i] = each + (place < more)
    return given
