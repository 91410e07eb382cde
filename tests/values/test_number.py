"""Numbers as a florist writes them."""

from fractions import Fraction

import pytest

from sitegen.values.number import (
    Unreadable,
    decimal_text,
    in_parts,
    number,
    percent,
    shorten,
    signed,
    total,
    whole,
)


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("12", Fraction(12)),
        ("4.10", Fraction(41, 10)),
        (" 0.000001 ", Fraction(1, 10**6)),
        ("2/3", Fraction(2, 3)),
        ("1 2/3", Fraction(5, 3)),
        ("999999999999.999999", Fraction(10**18 - 1, 10**6)),
        ("007", Fraction(7)),
        ("0", Fraction(0)),
    ],
)
def test_reads(text: str, value: Fraction) -> None:
    assert number(text) == value


@pytest.mark.parametrize(
    ("text", "fix"),
    [
        ("4,10", "write 4.10, with a point"),
        ("1,200", "write 1200, without the comma"),
        ("12,345,678.50", "write 12345678.50, without the comma"),
        ("0,125", "write 0.125, with a point"),
        ("-3", "write 3, or leave the line out"),
        ("1/0", "write a number below the stroke, such as 2/3"),
        ("", "write a number, such as 12 or 4.10"),
        ("1.1234567", "at most 12 before the point, 6 after it"),
        ("1000000000000", "at most 12 before the point, 6 after it"),
        ("1e5", "write a number, such as 12, 4.10 or 2/3"),
        ("1_000", "write a number, such as 12, 4.10 or 2/3"),
        ("٣", "write a number, such as 12, 4.10 or 2/3"),
        ("½", "write a number, such as 12, 4.10 or 2/3"),
        (".5", "write a number, such as 12, 4.10 or 2/3"),
        ("three", "write a number, such as 12, 4.10 or 2/3"),
        ("nan", "write a number, such as 12, 4.10 or 2/3"),
    ],
)
def test_refuses_with_something_to_type(text: str, fix: str) -> None:
    with pytest.raises(Unreadable) as refused:
        number(text)
    assert refused.value.fix == fix


def test_reads_below_zero_only_where_asked() -> None:
    assert signed("-1.50") == signed("−1.50") == Fraction(-3, 2)
    assert signed("1.50") == Fraction(3, 2)


@pytest.mark.parametrize(("text", "value"), [("12", 12), ("12.0", 12), ("24/2", 12), ("0", 0)])
def test_reads_whole_numbers(text: str, value: int) -> None:
    assert whole(text) == value


def test_a_part_is_not_whole() -> None:
    with pytest.raises(Unreadable) as refused:
        whole("2.5")
    assert refused.value.fix == "write 2 or 3"


@pytest.mark.parametrize(
    ("text", "value"), [("12%", Fraction(3, 25)), ("8.25 %", Fraction(33, 400)), ("0%", Fraction(0))]
)
def test_reads_percents(text: str, value: Fraction) -> None:
    assert percent(text) == value


@pytest.mark.parametrize(("text", "fix"), [("12", "write 12%"), ("a lot", "write a percent, such as 12%")])
def test_a_percent_needs_its_sign(text: str, fix: str) -> None:
    with pytest.raises(Unreadable) as refused:
        percent(text)
    assert refused.value.fix == fix


@pytest.mark.parametrize(
    ("value", "text"),
    [
        (Fraction(2, 3), "0.666667"),
        (Fraction(-2, 3), "-0.666667"),
        (Fraction(5, 2), "2.5"),
        (Fraction(100), "100"),
        (Fraction(-3), "-3"),
        (Fraction(1, 2 * 10**6), "0.000001"),
        (Fraction(-1, 10**9), "0"),
    ],
)
def test_prints_at_most_six_digits_without_trailing_zeros(value: Fraction, text: str) -> None:
    assert decimal_text(value) == text


def test_shortens_a_pasted_page() -> None:
    assert shorten("a  b\nc") == "a b c"
    assert shorten("x" * 41) == "x" * 39 + "…"
    assert shorten("x" * 40) == "x" * 40


def test_counts_in_the_largest_equal_parts() -> None:
    assert in_parts([Fraction(1, 4), Fraction(1, 6), 2, Fraction(-1, 2)]) == ([3, 2, 24, -6], 12)
    assert in_parts([]) == ([], 1)


def test_adds_exactly_also_nothing() -> None:
    assert total([Fraction(1, 3), 2, Fraction(1, 6)]) == Fraction(5, 2)
    assert total([]) == 0
