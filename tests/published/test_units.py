"""Units, smallest units of money, and rounding against standards."""

from fractions import Fraction

import pytest
from babel.numbers import get_currency_precision

from sitegen.values.length import length
from sitegen.values.money import DIGITS, half_away, round_to

# National Bureau of Standards, addendum of 22 January 1960 to Circular 572: 1 yard = 0.9144 metre exactly,
# whence 1 inch = 25.4 millimetres; in force from 1 July 1959. Feet: https://www.sizes.com/help/HLPcharts.htm


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("1 yd", "0.9144 m"),
        ("1 in", "25.4 mm"),
        ("1 yd", "3 ft"),
        ("1 yd", "36 in"),
        ("1 ft", "30.48 cm"),
        ("1 in", "2.54 cm"),
    ],
)
def test_yards_and_inches(one: str, other: str) -> None:
    assert length(one).metres == length(other).metres
    assert length(one).to(length(other).unit) == length(other)


# National Floral Supply, "Wedding garland basics", which takes pi as 3.14:
# https://www.nationalfloralsupply.us/post/wedding-garland-basics
@pytest.mark.parametrize(
    ("measured", "factor", "garland"),
    [
        ("36 in", "3.14", "113.04 in"),
        ("42 in", "3.14", "131.88 in"),
        ("60 in", "3.14", "188.4 in"),
        ("6 ft", "1.5", "9 ft"),
        ("15 ft", "1.5", "22.5 ft"),
    ],
)
def test_garlands_are_printed_as_their_source_prints_them(measured: str, factor: str, garland: str) -> None:
    assert str(length(measured).times(Fraction(factor))) == garland


@pytest.mark.parametrize(
    ("digits", "codes"),
    [
        (2, "AUD EUR GBP INR USD"),  # OPC 10000-3 v1.05, clause 8.61, citing ISO 4217
        (0, "JPY"),  # the same
        (3, "BHD"),  # HCL Commerce 7, table of currencies
        (0, "XOF"),  # the same
        (3, "KWD"),  # ISO 4217 list one, from memory
        (0, "KRW CLP"),  # the same
    ],
)
def test_published_minor_units(digits: int, codes: str) -> None:
    assert {DIGITS[code] for code in codes.split()} == {digits}


# CLDR, which Babel carries, counts the digits in which people write cash; where smaller coins fell out of use it
# prints none, though ISO 4217 still defines them. We follow ISO 4217, which banks and invoices use.
ONLY_IN_ISO = {"AFN", "ALL", "IQD", "IRR", "KPW", "LAK", "LBP", "MGA", "MMK", "RSD", "SOS", "SYP", "YER"}


def test_babel_counts_the_same_digits_but_where_cash_differs_from_iso() -> None:
    differing = {
        code: get_currency_precision(code) for code in DIGITS if get_currency_precision(code) != DIGITS[code]
    }
    assert differing.keys() <= ONLY_IN_ISO
    assert set(differing.values()) <= {0}


# General Decimal Arithmetic test cases, rounding.decTest 2.59 (IBM 1981, 2008), as in CPython's
# Lib/test/decimaltestdata: results of 5 digits under half_up (radx200-229, rsux200-229) and ceiling
# (radx330-359, rsux330-359). Columns: the number, what is added, half_up, ceiling.
DECIMAL_TESTS = """
12345 -0.1 12345 12345
12345 -0.01 12345 12345
12345 -0.001 12345 12345
12345 -0.00001 12345 12345
12345 -0.000001 12345 12345
12345 -0.0000001 12345 12345
12345 0 12345 12345
12345 0.0000001 12345 12346
12345 0.000001 12345 12346
12345 0.00001 12345 12346
12345 0.0001 12345 12346
12345 0.001 12345 12346
12345 0.01 12345 12346
12345 0.1 12345 12346
12346 0.49999 12346 12347
12346 0.5 12347 12347
12346 0.50001 12347 12347
12345 0.4 12345 12346
12345 0.49 12345 12346
12345 0.499 12345 12346
12345 0.49999 12345 12346
12345 0.5 12346 12346
12345 0.50001 12346 12346
12345 0.5001 12346 12346
12345 0.501 12346 12346
12345 0.51 12346 12346
12345 0.6 12346 12346
-12345 -0.1 -12345 -12345
-12345 -0.01 -12345 -12345
-12345 -0.0000001 -12345 -12345
-12345 0 -12345 -12345
-12345 0.0000001 -12345 -12344
-12345 0.1 -12345 -12344
-12346 0.49999 -12346 -12345
-12346 0.5 -12346 -12345
-12346 0.50001 -12345 -12345
-12345 0.4 -12345 -12344
-12345 0.49999 -12345 -12344
-12345 0.5 -12345 -12344
-12345 0.50001 -12344 -12344
-12345 0.6 -12344 -12344
"""


@pytest.mark.parametrize("case", DECIMAL_TESTS.strip().splitlines())
def test_decimal_rounding(case: str) -> None:
    start, added, half_up, ceiling = (Fraction(word) for word in case.split())
    assert half_away(start + added) == half_up
    assert round_to(start + added, Fraction(1), "nearest") == half_up
    assert round_to(start + added, Fraction(1), "up") == ceiling
