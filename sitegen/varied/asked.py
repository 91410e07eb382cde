"""What a varied set asks of its deal, and what the deal gives back."""

from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

Why = Literal["versions", "alike", "far", "few", "many"]
"""Why a deal is not as it was asked for.

`versions`: so few recipes cannot hold the totals. `alike`: the pieces cannot all share so much. `far`: they
can only differ where some have far more or less of a stem than the others. `few`: there are not so many
different recipes. `many`: more pieces than are told apart here.
"""


@dataclass(frozen=True, slots=True)
class Kind:
    """So many whole stems of one kind, to be dealt out. `halves`: it may be cut in two.

    `cost` is of one, in whatever the copies are to have as evenly as possible.
    """

    stem: str
    total: int
    cost: Fraction = Fraction(0)
    halves: bool = False


@dataclass(frozen=True, slots=True)
class Asked:
    """A set of `copies` pieces, each with `same` stems that all have, and of `kinds` what the deal gives it.

    Any two are to share at least `alike` (0 to 1) of their stems, and none is to have more or less of a kind
    than a fair share by more than the rest of that share, or by one stem. Without `versions` no two are to be
    the same, else so many recipes are to be used as evenly as possible.
    """

    copies: int
    kinds: tuple[Kind, ...]
    same: Fraction = Fraction(0)
    alike: Fraction = Fraction(0)
    versions: int | None = None


@dataclass(frozen=True, slots=True)
class Deal:
    """What each copy gets of each kind, in the order of the kinds; copies of one recipe stand side by side.

    `least` and `most` are the likeness of the two copies of different recipes that share least and most
    (1 where there is one recipe), `spread` is what the dearest costs above the cheapest. `versions` counts
    the recipes. `why` is empty where all that was asked for is met; else this is the nearest deal.
    """

    copies: tuple[tuple[Fraction, ...], ...]
    versions: int
    least: Fraction
    most: Fraction
    spread: Fraction
    why: tuple[Why, ...] = ()
