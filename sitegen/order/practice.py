"""What benches commonly do where a recipe says nothing. Common practice without a source, so a default only.

Whatever a piece writes itself (goods, stem_length, build, second_place) stands in its place.
"""

from fractions import Fraction

from sitegen.values.length import Length

WRAPPED = Length(Fraction(1, 2), "yd")
"""Ribbon for a bouquet whose handle is wrapped."""

TRAILING = (Length(Fraction(1), "yd"), Length(Fraction(3, 2), "yd"))
"""Ribbon for a bouquet with a trail, from and to."""

CUP = (Length(Fraction(3), "in"), Length(Fraction(4), "in"))
"""How wide a cup is in which a bouquet stands after it was carried, from and to."""

BUILDING = 10
"""Minutes to build one attendant's bouquet, where a hand-tied piece names none: hours, never a price."""

PULLING = Fraction(2, 5)
"""Minutes to find, strip and count one stem, where `work` names none for a piece: thirty stems take longer to
pull than a bouquet of them to build."""

FIRST_TIME = 2
"""How many times as long somebody takes who does it for the first time, where `first_time` is not written."""

TIDYING = 15
"""Minutes to lay everything out and to tidy up, once for all copies of a piece."""
