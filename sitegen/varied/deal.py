"""The deal of a varied set: exact in its totals, and the same for the same content."""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from fractions import Fraction
from functools import lru_cache

from sitegen.varied.asked import Asked, Deal, Why
from sitegen.varied.even import even
from sitegen.varied.exact import MOST_CHOSEN, all_rows, exact
from sitegen.varied.level import level
from sitegen.varied.table import Table
from sitegen.varied.task import WHOLE, Row, Task, halved, shared, task_of, unlimited, wider
from sitegen.varied.vary import vary

MOST_VERSIONS = 40
_ONE = Fraction(1)


@lru_cache(maxsize=256)
def deal(asked: Asked) -> Deal:
    """Deal what is *asked*, or what is nearest to it.

    Every kind's total comes out whole, and the pieces have the same number of
    stems, within one where that does not divide. Stems are halved only where
    whole ones cannot make the set. Where not all rules can be kept, first some
    stray from their fair shares, then likeness gives way, and last the number
    of recipes. Among the deals that hold them, one whose costs differ least:
    certain where there are few enough to look at
    all, else as near as exchanges of two stems bring it.
    """
    if not asked.copies:
        return Deal((), 0, _ONE, _ONE, Fraction(0))
    for versions, why in _versions(asked):
        for task, less in _tasks(asked, versions):
            rows = _rows(task)
            if rows is not None:
                return _measured(asked, task, rows, (*why, *less))
    task = task_of(asked, asked.copies)
    return _measured(asked, task, even(task) or [], ("few",) if asked.copies > 1 else ())


def _versions(asked: Asked) -> Iterator[tuple[int, tuple[Why, ...]]]:
    """How many recipes to try: as asked; more, where so few cannot hold the totals; else fewer."""
    asked_for = min(asked.versions or asked.copies, asked.copies)
    wanted = min(asked_for, MOST_VERSIONS)
    why: tuple[Why, ...] = ("many",) if asked_for > wanted else ()
    if wanted == 1 or _holds(asked, wanted):
        yield wanted, why
    else:
        more = range(wanted + 1, min(asked.copies, MOST_VERSIONS) + 1)
        yield from ((n, (*why, "versions")) for n in more if _holds(asked, n))
    different = len(all_rows(halved(unlimited(task_of(asked, wanted)), asked)) or range(wanted))
    fewer = min(wanted - 1, different)
    while fewer > 1:
        if _holds(asked, fewer):
            yield fewer, (*why, "few")
        fewer = min(fewer - 1, fewer * 7 // 8)


def _holds(asked: Asked, versions: int) -> bool:
    """Tell whether so many recipes can hold the totals at all."""
    return _start(halved(task_of(asked, versions), asked)) is not None


def _tasks(asked: Asked, versions: int) -> Iterator[tuple[Task, tuple[Why, ...]]]:
    """The task as asked, then with less and less likeness; each near the fair shares, then farther.

    All of them in whole stems, then with halves.
    """
    whole = task_of(asked, versions)
    halves = any(kind.halves for kind in asked.kinds)
    size = whole.most_size
    if not size:
        return
    few = _few_near(halved(whole, asked))
    below = _below(whole.must_share(size))
    likenesses = [asked.alike, *((whole.same + n) / (whole.same + size) for n in below)]
    for i, alike in enumerate(likenesses):
        less: tuple[Why, ...] = ("alike",) if i else ()
        near = replace(whole, alike=alike)
        far = (wider(near, asked), unlimited(near)) if few else ()
        for task in (near, *far):
            why = less if task is near else (*less, "far")
            yield task, why
            if halves:
                yield halved(task, asked), why


def _few_near(task: Task) -> bool:
    """Tell whether some may have to stray. Not where more rows are near than can be looked at.

    Recipes that are not made equally often exchange several stems at once, which soon is far.
    """
    start, uneven = _start(task), len(set(task.weights)) > 1
    return start is not None and (uneven or not all(map(task.holds, start)) or all_rows(task) is not None)


def _below(must: int) -> Iterator[int]:
    """Give what is less than *must*, in whole stems: one by one, and further apart where that is far."""
    left = (must - 1) // WHOLE
    while left >= 0:
        yield left * WHOLE
        left = min(left - 1, left * 15 // 16)


def _start(task: Task) -> list[Row] | None:
    """Begin with whole stems wherever these can make the totals."""
    return even(replace(task, steps=(WHOLE,) * len(task.steps))) or even(task)


def _rows(task: Task) -> Sequence[Row] | None:
    """Find the rows of a task; None where none hold the rules, or none were found."""
    start, smallest = _start(task), min(task.steps, default=WHOLE)
    several = len(task.weights) > 1
    if start is None or (several and task.must_share(task.most_size) > task.most_size - smallest):
        return None
    every = all_rows(task)
    if every is not None and len(every) < len(task.weights):
        return None
    table = Table(task, start)
    known = None
    if all(map(task.holds, start)) and vary(table):
        level(table)
        known = table.rows
        if not task.spread(known):
            return known
    return known if every is None or len(task.weights) > MOST_CHOSEN else exact(task, every, known)


def _measured(asked: Asked, task: Task, rows: Sequence[Row], why: tuple[Why, ...]) -> Deal:
    """Give the rows as often as they are made, with what there is to say of them."""
    by_weight = sorted(zip(task.weights, rows, strict=True), reverse=True)
    pairs = [(one, other) for i, one in enumerate(rows) for other in rows[:i] if one != other]
    alike = [(task.same + shared(*pair)) / (task.same + max(map(sum, pair))) for pair in pairs]
    per_half = [kind.cost / WHOLE for kind in asked.kinds]
    costs = [sum((n * cost for n, cost in zip(row, per_half, strict=True)), Fraction(0)) for row in rows]
    return Deal(
        copies=tuple(
            tuple(Fraction(n, WHOLE) for n in row) for weight, row in by_weight for _ in range(weight)
        ),
        versions=len({tuple(row) for row in rows}),
        least=min(alike, default=_ONE),
        most=max(alike, default=_ONE),
        spread=max(costs, default=Fraction(0)) - min(costs, default=Fraction(0)),
        why=why,
    )
