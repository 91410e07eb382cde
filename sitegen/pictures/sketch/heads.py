"""A brief's stems one by one: round heads, and what grows long."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from fractions import Fraction
from math import floor
from typing import TypeVar

from sitegen.pictures.sketch.brief import Brief, Stem
from sitegen.pictures.sketch.kinds import HABITS

_HALF = Fraction(1, 2)
# Blooms of one kind are not of one size; a spray's first bloom is the widest open.
_GROWTH = (1.0, 0.94, 1.04, 0.9, 0.97)
_BUDS = (1.0, 0.82, 0.66, 0.72, 0.6)
_INNER = {"form": 1.0, "mass": 0.4, "line": 0.2}
_LEAVES = (("ruscus", "#7d9668"), ("olive", "#98a586"))

T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class Head:
    """A stem that is round from the front: *blooms* in inches, the first the largest; *inner* wants in."""

    stem: int
    kind: str
    colour: str
    blooms: tuple[float, ...]
    inner: float

    @property
    def radius(self) -> float:
        """Half of what the stem's blooms take together; two and more lie side by side."""
        largest, count = self.blooms[0], len(self.blooms)
        return largest / 2 * (1.0 if count == 1 else 1.36 if count == 2 else 1.52 if count == 3 else 1.9)


@dataclass(frozen=True, slots=True)
class Long:
    """A spire, a spray or a sprig: what is seen of its length, in inches."""

    stem: int
    kind: str
    colour: str
    inches: float


def times_drawn(amount: Fraction) -> int:
    """How often a stem is drawn: the nearest whole number, and never none."""
    return max(1, floor(amount + _HALF))


def heads_of(brief: Brief) -> list[Head]:
    return [
        Head(i, one.kind, one.colour, _blooms(one, n), _INNER.get(one.role, 0.0))
        for i, one in enumerate(brief.stems)
        if HABITS[one.kind].group == "head"
        for n in range(times_drawn(one.amount))
    ]


def _blooms(one: Stem, n: int) -> tuple[float, ...]:
    part = min(one.amount, Fraction(1))
    count = max(1, floor(HABITS[one.kind].heads * part + _HALF))
    grown = one.inches * _GROWTH[n % len(_GROWTH)]
    return tuple(grown * bud for bud in _BUDS[:count])


def longs_of(brief: Brief) -> list[Long]:
    """Give what grows long, kinds dealt evenly one after the other; a part of a stem is a shorter tip."""
    found = [
        [Long(i, one.kind, one.colour, _length(one, n)) for n in range(times_drawn(one.amount))]
        for i, one in enumerate(brief.stems)
        if HABITS[one.kind].group != "head"
    ]
    return dealt(found)


def _length(one: Stem, n: int) -> float:
    short = 1.0 if one.amount >= 1 else max(0.5, float(one.amount))
    return one.inches * short * _GROWTH[n % len(_GROWTH)]


def dealt(groups: Iterable[list[T]]) -> list[T]:
    """Put the members of *groups* into one row in which each group is spread evenly."""
    placed: Iterator[tuple[float, int, T]] = (
        ((n + 0.5) / len(group), g, one) for g, group in enumerate(groups) for n, one in enumerate(group)
    )
    return [one for _, _, one in sorted(placed, key=lambda entry: entry[:2])]


@dataclass(frozen=True, slots=True)
class Fill:
    """Leaves that are not in the count and only hide gaps: their kinds and colours, and at most how many.

    They are the recipe's own foliage. Without any, they are what a flower's own stem bears: few, and none of
    them is to be *seen* beyond the flowers.
    """

    leaves: tuple[tuple[str, str], ...]
    most: int
    seen: bool

    def some(self, count: int) -> Iterator[tuple[str, str]]:
        """Give so many leaves, or as many as there may be."""
        for n in range(min(count, self.most)):
            yield self.leaves[n % len(self.leaves)]


def fill_of(brief: Brief) -> Fill:
    own = tuple((one.kind, one.colour) for one in brief.stems if HABITS[one.kind].group == "sprig")
    stems = sum(times_drawn(one.amount) for one in brief.stems)
    return Fill(own or _LEAVES, round(1.6 * stems) if own else stems // 2, seen=bool(own))
