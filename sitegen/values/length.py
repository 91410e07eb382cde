"""Lengths, exact, that keep the unit they were written in.

A yard is 0.9144 m exactly (National Bureau of Standards, Circular 572 addendum, 1960).
"""

import re
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property

from sitegen.values.number import Unreadable, decimal_text, number, shorten

METRES = {
    "in": Fraction(254, 10_000),
    "ft": Fraction(3048, 10_000),
    "yd": Fraction(9144, 10_000),
    "mm": Fraction(1, 1000),
    "cm": Fraction(1, 100),
    "m": Fraction(1),
}
_LENGTH = re.compile(r"(.*?) *(in|ft|yd|mm|cm|m)", re.ASCII)


@dataclass(frozen=True)
class Length:
    """An amount of one of the units in `METRES`."""

    amount: Fraction
    unit: str

    @cached_property
    def metres(self) -> Fraction:
        return self.amount * METRES[self.unit]

    def times(self, factor: Fraction | int) -> "Length":
        return Length(self.amount * factor, self.unit)

    def to(self, unit: str) -> "Length":
        """Give the same length in *unit*, exactly."""
        return Length(self.metres / METRES[unit], unit)

    def __str__(self) -> str:
        return f"{decimal_text(self.amount)} {self.unit}"


def length(text: str) -> Length:
    """Read `0.5 yd` or `3.25 in`, or raise `Unreadable`."""
    match = _LENGTH.fullmatch(text.strip())
    if not match or not match[1]:
        fix = "write a number and one of in, ft, yd, mm, cm, m, such as 0.5 yd or 50 cm"
        raise Unreadable(f'"{shorten(text)}" is not a length', fix)
    return Length(number(match[1]), match[2])
