"""How one studio speaks to its couples: words, money, and the phrases made of both."""

from dataclasses import dataclass, replace
from decimal import Decimal
from fractions import Fraction
from functools import lru_cache

from babel.numbers import format_percent, get_decimal_symbol

from sitegen.render.dates import listed, locale_of
from sitegen.render.money import MoneyFormat, money_format
from sitegen.render.words import Words, florist_language, words_for
from sitegen.values.length import Length
from sitegen.values.money import Currency
from sitegen.values.number import decimal_text

_PARTS = {(1, 2): "½", (1, 3): "⅓", (2, 3): "⅔", (1, 4): "¼", (3, 4): "¾"}


@dataclass(frozen=True, slots=True)
class Voice:
    """The words of a language and the money of a studio.

    *around_percent* is what stands before and after a percentage: `%`, or a space and `%`.
    """

    language: str
    words: Words
    money: MoneyFormat
    decimal: str
    around_percent: tuple[str, str]

    def amount(self, value: Fraction | Length) -> str:
        """Print an amount as a person writes it: `3`, `2½`, `1½ yd`, `0.4`."""
        if isinstance(value, Length):
            return f"{self.amount(value.amount)} {value.unit}"
        if value.denominator == 1:
            return str(value.numerator)
        whole, rest = divmod(value.numerator, value.denominator)
        if part := _PARTS.get((rest, value.denominator)):
            return f"{whole or ''}{part}"
        return decimal_text(value, 2).replace(".", self.decimal)

    def percent(self, number: str) -> str:
        """Print a number, its decimal point as the language writes it, as a percentage: `8.25%`."""
        before, after = self.around_percent
        return f"{before}{number.replace('-', '−').replace('.', self.decimal)}{after}"

    def each_and_line(self, each: int, quantity: int) -> tuple[str, str]:
        """Say what one costs and what all cost; one alone needs no price each."""
        _ = self.words
        if quantity == 1:
            return "", self.money.brief(each)
        each_said = _("{price} each", price=self.money.brief(each))
        return each_said, _("{n} for {price}", n=quantity, price=self.money.brief(each * quantity))

    def difference(self, each: int, quantity: int) -> tuple[str, str]:
        """Say what an answer changes, for one piece and for all of them."""
        _ = self.words
        if each == 0 or quantity == 1:
            return self.step(each), ""
        for_all = _("{price} for {n}", price=self.money.change(each * quantity), n=_.number(quantity))
        return _("{price} each", price=self.money.change(each)), for_all

    def step(self, units: int) -> str:
        """Say a difference in price: `+$31`, `−$22`, `same price`."""
        return self.money.change(units) if units else self.words("same price")

    def leads_to(self, total: int) -> str:
        return self.words("total {price}", price=self.money.exact(total))

    def times(self, each: int, quantity: int) -> str:
        """Say how a line of the estimate comes about: `5 × $118`; nothing for one."""
        return "" if quantity == 1 else f"{quantity} × {self.money.brief(each)}"

    def listed(self, words: tuple[str, ...]) -> str:
        return listed(words, self.language)


@lru_cache(maxsize=64)
def voice_for(language: str, currency: Currency) -> Voice:
    """Give the voice for a language tag and a currency; made once."""
    locale = locale_of(language)
    before, _, after = format_percent(Decimal("0.7"), locale=locale).partition("70")
    return Voice(
        language,
        words_for(language),
        money_format(language, currency),
        get_decimal_symbol(locale),
        (before, after),
    )


def florist_voice(language: str, currency: Currency) -> Voice:
    """Give the voice of the florist's own pages: her studio's days and amounts, in English words."""
    return replace(voice_for(language, currency), words=words_for(florist_language(language)))
