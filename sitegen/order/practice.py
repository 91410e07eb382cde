"""What benches commonly do where a recipe says nothing. Common practice without a source, so a default only.

Whatever a piece writes itself (goods, stem_length, build, second_place) stands in its place.
"""

from dataclasses import dataclass
from fractions import Fraction

from sitegen.values.length import Length


@dataclass(frozen=True, slots=True)
class Usual:
    """Ribbon for a wrapped handle, and for one with a trail from and to; from and to how wide a cup is.

    In the cup a bouquet stands after it was carried.
    """

    wrapped: Length
    trailing: tuple[Length, Length]
    cup: tuple[Length, Length]


def usual(*, metric: bool) -> Usual:
    """Give the usual measures, as they are said in the studio's units."""
    return METRIC if metric else INCHES


INCHES = Usual(
    wrapped=Length(Fraction(1, 2), "yd"),
    trailing=(Length(Fraction(1), "yd"), Length(Fraction(3, 2), "yd")),
    cup=(Length(Fraction(3), "in"), Length(Fraction(4), "in")),
)
METRIC = Usual(
    wrapped=Length(Fraction(1, 2), "m"),
    trailing=(Length(Fraction(1), "m"), Length(Fraction(3, 2), "m")),
    cup=(Length(Fraction(8), "cm"), Length(Fraction(10), "cm")),
)

BUILDING = 10
"""Minutes to build one attendant's bouquet, where a hand-tied piece names none: hours, never a price."""

PULLING = Fraction(2, 5)
"""Minutes to find, strip and count one stem, where `work` names none for a piece: thirty stems take longer to
pull than a bouquet of them to build."""

FIRST_TIME = 2
"""How many times as long somebody takes who does it for the first time, where `first_time` is not written."""

TIDYING = 15
"""Minutes to lay everything out and to tidy up, once for all copies of a piece."""
