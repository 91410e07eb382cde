"""Every deal there is of a small set, counted out without any of the program's own ways."""

from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import combinations, product

from sitegen.varied.asked import Asked

Row = tuple[int, ...]
One = Sequence[Fraction | int]


def deals(asked: Asked) -> Iterator[tuple[Row, ...]]:
    """All deals in whole stems, in which no two of the pieces are the same, that hold every rule."""
    totals = [kind.total for kind in asked.kinds]
    least, more = divmod(sum(totals), asked.copies)
    sizes = {least, least + (more > 0)}
    rows = [row for row in product(*(range(n + 1) for n in totals)) if sum(row) in sizes]
    for chosen in combinations(rows, asked.copies):
        if [sum(column) for column in zip(*chosen, strict=True)] == totals and alike(asked, chosen):
            yield chosen


def is_near(asked: Asked, row: Row) -> bool:
    """Tell whether a piece has of each kind what the recipe says, but for a stem or what likeness leaves."""
    for n, kind in zip(row, asked.kinds, strict=True):
        recipe = Fraction(kind.total, asked.copies)
        if abs(n - recipe) > max(Fraction(1), recipe * (1 - asked.alike)):
            return False
    return True


def alike(asked: Asked, rows: tuple[Row, ...]) -> bool:
    return all(likeness(asked, one, other) >= asked.alike for one, other in combinations(rows, 2))


def likeness(asked: Asked, one: One, other: One) -> Fraction:
    """What two share, over the larger of them: Σ min / the larger Σ, with what all have counted in."""
    larger = asked.same + max(sum(one), sum(other))
    both = sum((Fraction(min(pair)) for pair in zip(one, other, strict=True)), Fraction(0))
    return (asked.same + both) / larger if larger else Fraction(1)


def spread(asked: Asked, rows: tuple[Row, ...]) -> Fraction:
    costs = [sum(n * kind.cost for n, kind in zip(row, asked.kinds, strict=True)) for row in rows]
    return Fraction(max(costs) - min(costs))
