"""Money as people read it, derived once for a language and currency and shared with the page's script.

The record is read off what Babel prints for sample amounts, so that the script, which has no
Babel, writes the same text. Only the minus differs: it is the true minus, U+2212.
"""

import re
from dataclasses import dataclass, replace
from decimal import Decimal
from functools import lru_cache

from babel.numbers import format_currency

from sitegen.render.dates import locale_of
from sitegen.values.money import Currency

_MINUS = re.compile("[-−]")
Around = tuple[str, str]


@dataclass(frozen=True, slots=True)
class MoneyFormat:
    """What stands around and between the digits.

    *sizes* are the groups' lengths, the last one first; numbers of fewer than *grouped_from* digits stand
    in one piece.
    """

    digits: int
    decimal: str
    group: str
    sizes: tuple[int, int]
    grouped_from: int
    plain: Around
    minus: Around
    plus: Around

    def exact(self, units: int) -> str:
        """Print *units* of the smallest unit with all their digits: `$1,234.50`."""
        return self._around(units, self.plain, brief=False)

    def brief(self, units: int) -> str:
        """Print *units*, whole amounts without a decimal part: `$118`, `$118.50`."""
        return self._around(units, self.plain, brief=True)

    def change(self, units: int) -> str:
        """Print a difference with its sign, briefly: `+$31`, `−$22`."""
        return self._around(units, self.plus, brief=True)

    def _around(self, units: int, positive: Around, *, brief: bool) -> str:
        before, after = self.minus if units < 0 else positive
        whole, rest = divmod(abs(units), 10**self.digits)
        tail = "" if not self.digits or (brief and not rest) else f"{self.decimal}{rest:0{self.digits}d}"
        return f"{before}{self._grouped(str(whole))}{tail}{after}"

    def _grouped(self, whole: str) -> str:
        if len(whole) < self.grouped_from:
            return whole
        first, then = self.sizes
        parts = [whole[-first:]]
        rest = whole[:-first]
        while rest:
            parts.append(rest[-then:])
            rest = rest[:-then]
        return self.group.join(reversed(parts))


@lru_cache(maxsize=64)
def money_format(language: str, currency: Currency) -> MoneyFormat:
    """Derive the format for *language*; one that Babel does not know is written as English.

    >>> usd = money_format("en-US", Currency("USD", 2))
    >>> usd.exact(123450), usd.brief(11800), usd.change(-2200)
    ('$1,234.50', '$118', '−$22')
    """
    before, inner, after = _split(_sample(language, currency, "123456789.12"))
    groups = re.findall(r"\d+|\D+", inner)
    minus_before, _, minus_after = _split(_sample(language, currency, "-123456789.12"))
    small = _split(_sample(language, currency, "1234.12"))[1]
    grouped = len(groups) > 3
    return MoneyFormat(
        digits=currency.digits,
        decimal=groups[-2],
        group=groups[1] if grouped else "",
        sizes=(len(groups[-3]), len(groups[-5])) if grouped else (3, 3),
        grouped_from=4 if len(re.findall(r"\D+", small)) > 1 else 5,
        plain=(before, after),
        minus=(_MINUS.sub("−", minus_before), _MINUS.sub("−", minus_after)),
        plus=(_MINUS.sub("+", minus_before), _MINUS.sub("+", minus_after)),
    )


@lru_cache(maxsize=16)
def without_sign(money: MoneyFormat) -> tuple[MoneyFormat, str]:
    """Part a format from its currency, which then stands once at the head of a column."""
    symbol = "".join(money.plain).strip()
    return replace(money, plain=("", ""), minus=("−", ""), plus=("+", "")), symbol


def _sample(language: str, currency: Currency, amount: str) -> str:
    # Two decimals whatever the currency: its own number of digits is ISO 4217's, not the language's.
    return format_currency(Decimal(amount), currency.code, locale=locale_of(language), currency_digits=False)


def _split(text: str) -> tuple[str, str, str]:
    """Part what stands before the first digit, from first to last digit, and after."""
    match = re.fullmatch(r"(\D*)(\d.*\d)(\D*)", text, re.DOTALL)
    if match is None:
        raise ValueError(f"no digits in {text!r}")
    return match[1], match[2], match[3]
