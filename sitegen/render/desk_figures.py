"""How figures and days are printed on the desk: bare amounts under a head that names the currency."""

import datetime as dt
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache

from babel.dates import format_skeleton

from sitegen.render.couple_piece import Moment
from sitegen.render.dates import locale_of
from sitegen.render.money import MoneyFormat, without_sign
from sitegen.render.voice import Voice, florist_voice
from sitegen.values.money import Currency, half_away
from sitegen.values.number import decimal_text

_NO_SHARE = "–"


@dataclass(frozen=True, slots=True)
class Figures:
    """The studio's figures as seen on one day."""

    voice: Voice
    money: MoneyFormat
    symbol: str
    today: dt.date

    def amount(self, units: int) -> str:
        """Print *units* without the currency: `1,234.50`, `−3.00`."""
        return self.money.exact(units)

    def share(self, part: int, whole: int) -> str:
        """Print how much of *whole* a *part* is, in whole percents: `72%`; a dash where there is no whole."""
        return self.voice.percent(str(half_away(Fraction(100 * part, whole)))) if whole > 0 else _NO_SHARE

    def tenths(self, tenths: int) -> str:
        """Print tenths of a percent with their decimal: `69.5%`."""
        whole, tenth = divmod(abs(tenths), 10)
        return self.voice.percent(f"{'-' * (tenths < 0)}{whole}.{tenth}")

    def rate(self, rate: Fraction) -> str:
        """Print a percentage with the digits it has: `6.5%`."""
        return self.voice.percent(decimal_text(rate * 100))

    def day(self, day: dt.date) -> str:
        """Print a day with its weekday, and its year where that is not today's: `Sat, May 8`."""
        return short_day(day, self.voice.language, with_year=day.year != self.today.year)

    def moment(self, day: dt.date) -> Moment:
        return Moment(day.isoformat(), self.day(day))

    def away(self, day: dt.date) -> str:
        """Say how far off *day* is: `in 19 days`, `today`, `1 day ago`."""
        _ = self.voice.words
        days = (day - self.today).days
        if days == 0:
            return _("today")
        if days > 0:
            return _.plural("in {n} day", "in {n} days", days)
        return _.plural("{n} day ago", "{n} days ago", -days)


def figures_for(language: str, currency: Currency, today: dt.date) -> Figures:
    """Give the figures of a studio of that *language* and *currency* on *today*."""
    voice = florist_voice(language, currency)
    bare, symbol = without_sign(voice.money)
    return Figures(voice, bare, symbol, today)


@lru_cache(maxsize=4096)
def short_day(day: dt.date, language: str, *, with_year: bool = False) -> str:
    """Print a day with its weekday: `Sat, May 8`, with its year if wanted."""
    # U+00A0 keeps a day in one piece where a narrow column breaks its lines.
    skeleton = "yMMMEd" if with_year else "MMMEd"
    return format_skeleton(skeleton, day, locale=locale_of(language)).replace(" ", "\u00a0")
