"""Rounding to a currency's smallest unit, to a step, and splitting."""

from fractions import Fraction

import pytest

from sitegen.values.money import Currency, half_away, round_to, share

USD, JPY, BHD = Currency("USD", 2), Currency("JPY", 0), Currency("BHD", 3)


@pytest.mark.parametrize(
    ("value", "rounded"),
    [("0.5", 1), ("-0.5", -1), ("1.5", 2), ("2.5", 3), ("-2.5", -3), ("2.4999", 2), ("0", 0)],
)
def test_halves_go_away_from_zero(value: str, rounded: int) -> None:
    assert half_away(Fraction(value)) == rounded


@pytest.mark.parametrize(
    ("currency", "amount", "units", "text"),
    [
        (USD, "4.105", 411, "4.11"),
        (USD, "-4.105", -411, "-4.11"),
        (USD, "0.004", 0, "0.00"),
        (USD, "-0.05", -5, "-0.05"),
        (JPY, "1234.5", 1235, "1235"),
        (BHD, "0.0005", 1, "0.001"),
        (BHD, "12", 12000, "12.000"),
    ],
)
def test_amounts_become_units_and_text(currency: Currency, amount: str, units: int, text: str) -> None:
    assert currency.units(Fraction(amount)) == units
    assert currency.text(units) == text
    assert currency.units(currency.amount(units)) == units


@pytest.mark.parametrize(
    ("value", "step", "how", "rounded"),
    [
        ("12.01", "1", "up", "13"),
        ("12", "1", "up", "12"),
        ("12.5", "1", "nearest", "13"),
        ("12.49", "1", "nearest", "12"),
        ("7.5", "5", "nearest", "10"),
        ("7.4", "5", "up", "10"),
        ("0.26", "0.50", "nearest", "0.5"),
        ("-12.5", "1", "nearest", "-13"),
        ("-12.5", "1", "up", "-12"),
    ],
)
def test_rounds_to_a_step(value: str, step: str, how: str, rounded: str) -> None:
    assert round_to(Fraction(value), Fraction(step), how) == Fraction(rounded)


@pytest.mark.parametrize(
    ("total", "weights", "parts"),
    [
        (10000, [1, 1, 1], (3334, 3333, 3333)),
        (5, [1, 1], (3, 2)),
        (0, [1, 2], (0, 0)),
        (7, [0, 1], (0, 7)),
        (100, [Fraction(1, 16), Fraction(1, 100)], (86, 14)),  # 86.2 and 13.8
        (-10, [1, 1, 1], (-3, -3, -4)),
        (1, [1, 2, 1], (0, 1, 0)),  # the largest remainder, not the first
    ],
)
def test_shares_to_the_last_unit(total: int, weights: list[Fraction | int], parts: tuple[int, ...]) -> None:
    assert share(total, weights) == parts


@pytest.mark.parametrize("weights", [[], [0, 0]])
def test_nobody_to_share_between_is_a_mistake(weights: list[int]) -> None:
    with pytest.raises(ValueError, match="nothing to share between"):
        share(1, weights)
