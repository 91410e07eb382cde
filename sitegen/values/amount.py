"""Amounts in recipes and bunch sizes: `3`, `2/3`, `0.5 bunch`, `~8`."""

import re
from dataclasses import dataclass
from fractions import Fraction

from sitegen.values.length import Length, length
from sitegen.values.number import Unreadable, number, whole

_BUNCH = re.compile(r"(.*?) *bunch(?:es)?", re.ASCII)


@dataclass(frozen=True, slots=True)
class StemAmount:
    """So many stems, or so many bunches of the offer that prices the recipe."""

    count: Fraction
    bunches: bool = False

    def stems(self, bunch: int) -> Fraction:
        """Count in stems, for a bunch of *bunch*."""
        return self.count * bunch if self.bunches else self.count


@dataclass(frozen=True, slots=True)
class Bunch:
    """How many stems are sold together; *about* where the grower says so (`~8`)."""

    stems: int
    about: bool = False


def stem_amount(text: str) -> StemAmount:
    """Read `3`, `2.5` or `0.5 bunch`, or raise `Unreadable`."""
    if match := _BUNCH.fullmatch(text.strip()):
        return StemAmount(number(match[1]), bunches=True)
    return StemAmount(number(text))


def good_amount(text: str) -> Fraction | Length:
    """Read `6` (pieces) or `0.5 yd`, or raise `Unreadable`."""
    text = text.strip()
    return length(text) if text[-1:].isalpha() else number(text)


def bunch(text: str) -> Bunch:
    """Read `10` or `~8`; a bunch of nothing raises `Unreadable`."""
    text = text.strip()
    about = text.startswith("~")
    stems = whole(text[1:] if about else text)
    if stems == 0:
        raise Unreadable("a bunch of 0 stems", "write how many stems are sold together, such as 10")
    return Bunch(stems, about)
