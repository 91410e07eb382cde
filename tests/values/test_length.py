"""Lengths and amounts of recipes."""

from fractions import Fraction

import pytest

from sitegen.values.amount import Bunch, StemAmount, bunch, good_amount, stem_amount
from sitegen.values.length import Length, length
from sitegen.values.number import Unreadable


@pytest.mark.parametrize(
    ("text", "amount", "unit"),
    [
        ("0.5 yd", Fraction(1, 2), "yd"),
        ("7in", Fraction(7), "in"),
        ("1 1/2 ft", Fraction(3, 2), "ft"),
        ("2 m", Fraction(2), "m"),
    ],
)
def test_reads_lengths(text: str, amount: Fraction, unit: str) -> None:
    assert length(text) == Length(amount, unit)


@pytest.mark.parametrize("text", ["7", "7 inches", "yd", "", "7 IN", "-1 m", "1,5 m"])
def test_refuses_what_is_no_length(text: str) -> None:
    with pytest.raises(Unreadable):
        length(text)


def test_a_length_keeps_its_unit() -> None:
    assert str(length("2.50 yd").times(Fraction(2, 5))) == "1 yd"
    assert str(length("1 yd").to("in")) == "36 in"
    assert str(length("1/3 m")) == "0.333333 m"


def test_reads_stems_and_bunches() -> None:
    assert stem_amount("2.5") == StemAmount(Fraction(5, 2))
    assert stem_amount("0.5 bunch") == StemAmount(Fraction(1, 2), bunches=True)
    assert stem_amount("2 bunches").stems(12) == 24
    assert stem_amount("2").stems(12) == 2


def test_reads_goods_by_piece_or_length() -> None:
    assert good_amount("6") == Fraction(6)
    assert good_amount("0.5 yd") == Length(Fraction(1, 2), "yd")


def test_reads_bunches_also_about() -> None:
    assert bunch("10") == Bunch(10)
    assert bunch("~8") == Bunch(8, about=True)


@pytest.mark.parametrize("text", ["0", "~0", "2.5", "ten"])
def test_refuses_what_is_no_bunch(text: str) -> None:
    with pytest.raises(Unreadable):
        bunch(text)
