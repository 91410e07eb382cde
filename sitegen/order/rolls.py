"""Cuts laid on rolls: longest first, each on the first roll that still has room for it whole."""

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from sitegen.values.number import in_parts


@dataclass(frozen=True, slots=True)
class Roll:
    """One roll: which cuts come from it (their numbers, in cutting order) and what is left of it."""

    cuts: tuple[int, ...]
    left: Fraction


def lay(cuts: Sequence[Fraction], roll: Fraction) -> tuple[Roll, ...]:
    """Lay *cuts* on as few rolls of length *roll* as this rule finds.

    Equal cuts keep their order. A cut longer than a roll fits on none and is
    left out; `longer_than` names those.

    >>> len(lay([Fraction(3, 2)] * 33, Fraction(25)))
    3
    """
    (whole, *parts), over = in_parts([roll, *cuts])
    left: list[int] = []
    return _rolls(first_fit(parts, left, whole), left, over)


def lay_on(cuts: Sequence[Fraction], rolls: Sequence[Fraction]) -> tuple[Roll, ...]:
    """Lay *cuts* on just these *rolls*, first to last; a cut that finds no room is on none.

    >>> [roll.cuts for roll in lay_on([Fraction(2), Fraction(4), Fraction(3)], [Fraction(5), Fraction(4)])]
    [(1,), (2,)]
    """
    parts, over = in_parts([*cuts, *rolls])
    left = parts[len(cuts) :]
    return _rolls(first_fit(parts[: len(cuts)], left), left, over)


def first_fit(cuts: Sequence[int], left: list[int], fresh: int = 0) -> list[list[int]]:
    """Lay *cuts* on rolls with so much *left*, longest cut first; take *fresh* rolls where none has room.

    Gives the numbers of the cuts on each roll. *left* is brought up to date: fresh rolls are added to it.
    """
    placed: list[list[int]] = [[] for _ in left]
    at, last = 0, 0
    for i in sorted(range(len(cuts)), key=lambda i: (-cuts[i], i)):
        cut = cuts[i]
        if cut != last:  # a shorter one: rolls that were passed over may have room for it
            at, last = 0, cut
        while at < len(left) and left[at] < cut:
            at += 1
        if at == len(left) and cut <= fresh:
            placed.append([])
            left.append(fresh)
        if at < len(left):
            placed[at].append(i)
            left[at] -= cut
    return placed


def _rolls(placed: Sequence[Sequence[int]], left: Sequence[int], over: int) -> tuple[Roll, ...]:
    return tuple(
        Roll(tuple(numbers), Fraction(rest, over)) for numbers, rest in zip(placed, left, strict=True)
    )


def longer_than(cuts: Sequence[Fraction], roll: Fraction) -> tuple[int, ...]:
    (whole, *parts), _ = in_parts([roll, *cuts])
    return tuple(i for i, cut in enumerate(parts) if cut > whole)
