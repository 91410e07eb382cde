"""Cuts laid on rolls: longest first, each on the first roll that still has room for it whole."""

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction


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
    rolls: list[tuple[list[int], Fraction]] = []
    for i in sorted(range(len(cuts)), key=lambda i: (-cuts[i], i)):
        if cuts[i] > roll:
            continue
        at = next((k for k, (_, left) in enumerate(rolls) if left >= cuts[i]), None)
        if at is None:
            rolls.append(([], roll))
            at = len(rolls) - 1
        placed, left = rolls[at]
        rolls[at] = ([*placed, i], left - cuts[i])
    return tuple(Roll(tuple(placed), left) for placed, left in rolls)


def longer_than(cuts: Sequence[Fraction], roll: Fraction) -> tuple[int, ...]:
    return tuple(i for i, cut in enumerate(cuts) if cut > roll)
