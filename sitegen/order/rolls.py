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
    placed: list[list[int]] = []
    left: list[int] = []
    at, last = 0, whole
    for i in sorted(range(len(parts)), key=lambda i: (-parts[i], i)):
        cut = parts[i]
        if cut > whole:
            continue
        if cut != last:  # a shorter one: rolls that were passed over may have room for it
            at, last = 0, cut
        while at < len(left) and left[at] < cut:
            at += 1
        if at == len(left):
            placed.append([])
            left.append(whole)
        placed[at].append(i)
        left[at] -= cut
    return tuple(
        Roll(tuple(numbers), Fraction(rest, over)) for numbers, rest in zip(placed, left, strict=True)
    )


def longer_than(cuts: Sequence[Fraction], roll: Fraction) -> tuple[int, ...]:
    (whole, *parts), _ = in_parts([roll, *cuts])
    return tuple(i for i, cut in enumerate(parts) if cut > whole)
