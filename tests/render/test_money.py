"""Printed money against Babel (Unicode CLDR's patterns), which the format is read off by a few samples only."""

from decimal import Decimal

import pytest
from babel.numbers import format_currency
from hypothesis import given
from hypothesis import strategies as st

from sitegen.render.money import money_format
from sitegen.values.money import Currency

PLACES = [
    ("en-US", Currency("USD", 2)),
    ("en-GB", Currency("GBP", 2)),
    ("de-DE", Currency("EUR", 2)),
    ("fr-FR", Currency("EUR", 2)),
    ("es-ES", Currency("EUR", 2)),
    ("de-CH", Currency("CHF", 2)),
    ("en-IN", Currency("INR", 2)),
    ("ja-JP", Currency("JPY", 0)),
    ("ar-BH", Currency("BHD", 3)),
    ("pt-PT", Currency("EUR", 2)),
    ("sv-SE", Currency("SEK", 2)),
]


@pytest.mark.parametrize(("language", "currency"), PLACES)
@given(units=st.integers(-(10**12), 10**12))
def test_amounts_are_printed_as_babel_prints_them_but_for_the_minus(
    language: str, currency: Currency, units: int
) -> None:
    amount = Decimal(units).scaleb(-currency.digits)
    pattern_of_two = format_currency(amount, currency.code, locale=language.replace("-", "_"))
    assert money_format(language, currency).exact(units) == pattern_of_two.replace("-", "−")


def test_whole_amounts_are_brief_and_differences_carry_a_sign() -> None:
    dollars = money_format("en-US", Currency("USD", 2))
    assert dollars.brief(123400) == "$1,234"
    assert dollars.brief(123450) == "$1,234.50"
    assert dollars.change(-2200) == "−$22"
    assert dollars.change(5) == "+$0.05"
    euros = money_format("de-DE", Currency("EUR", 2))
    assert euros.change(3100) == "+31\N{NO-BREAK SPACE}€"


def test_digits_are_the_currencys_own_in_any_language() -> None:
    assert money_format("en-US", Currency("JPY", 0)).exact(1234) == "¥1,234"
    assert money_format("en-US", Currency("BHD", 3)).exact(1234567).endswith("1,234.567")


def test_a_language_that_is_not_known_is_written_as_english() -> None:
    assert money_format("zz", Currency("USD", 2)).exact(123456) == "$1,234.56"
