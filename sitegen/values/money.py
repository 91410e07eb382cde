"""Money: currencies by ISO 4217, the one gate that rounds, and splitting to the last cent.

Amounts are fractions in whole units of the currency until they are rounded;
rounded amounts are integers of its smallest unit ("units").
"""

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from sitegen.values.number import in_parts

# ISO 4217, list one, currencies in use; checked against an independent library in tests/published.
_TWO = (
    "AED AFN ALL AMD AOA ARS AUD AWG AZN BAM BBD BDT BMD BND BOB BRL BSD BTN BWP BYN BZD CAD CDF CHF CNY COP "
    "CRC CUP CVE CZK DKK DOP DZD EGP ERN ETB EUR FJD FKP GBP GEL GHS GIP GMD GTQ GYD HKD HNL HTG HUF IDR ILS "
    "INR IRR JMD KES KGS KHR KPW KYD KZT LAK LBP LKR LRD LSL MAD MDL MGA MKD MMK MNT MOP MRU MUR MVR MWK MXN "
    "MYR MZN NAD NGN NIO NOK NPR NZD PAB PEN PGK PHP PKR PLN QAR RON RSD RUB SAR SBD SCR SDG SEK SGD SHP SLE "
    "SOS SRD SSP STN SVC SYP SZL THB TJS TMT TOP TRY TTD TWD TZS UAH USD UYU UZS VED VES WST XCD XCG YER ZAR "
    "ZMW ZWG"
)
_NONE = "BIF CLP DJF GNF ISK JPY KMF KRW PYG RWF UGX VND VUV XAF XOF XPF"
_THREE = "BHD IQD JOD KWD LYD OMR TND"
DIGITS: dict[str, int] = {
    **dict.fromkeys(_TWO.split(), 2),
    **dict.fromkeys(_NONE.split(), 0),
    **dict.fromkeys(_THREE.split(), 3),
}


@dataclass(frozen=True, slots=True)
class Currency:
    """An ISO 4217 code and how many digits its smallest unit stands behind the point."""

    code: str
    digits: int

    def units(self, amount: Fraction) -> int:
        """Round *amount* to the smallest unit, half away from zero.

        >>> Currency("USD", 2).units(Fraction("1.225"))
        123
        """
        return _half_away(amount.numerator * 10**self.digits, amount.denominator)

    def amount(self, units: int) -> Fraction:
        return Fraction(units, 10**self.digits)

    def text(self, units: int) -> str:
        """Print *units* as a plain decimal: `120.00`, `-3`."""
        sign = "-" if units < 0 else ""
        size = 10**self.digits
        whole, rest = divmod(abs(units), size)
        return f"{sign}{whole}.{rest:0{self.digits}d}" if self.digits else f"{sign}{whole}"


def half_away(value: Fraction) -> int:
    """Round to a whole number, halves away from zero, as sales tax law commonly asks."""
    return _half_away(value.numerator, value.denominator)


def _half_away(parts: int, over: int) -> int:
    size = (2 * abs(parts) + over) // (2 * over)
    return -size if parts < 0 else size


def round_to(value: Fraction, step: Fraction, how: str) -> Fraction:
    """Round *value* to a multiple of *step*: `up`, or `nearest` with halves away from zero."""
    parts, over = value.numerator * step.denominator, value.denominator * step.numerator
    return step * (-(-parts // over) if how == "up" else _half_away(parts, over))


def share(total: int, weights: Sequence[Fraction | int]) -> tuple[int, ...]:
    """Split *total* in proportion to *weights*, to the last unit.

    The parts always add up to *total*. Units that do not divide go to the
    parts that rounding down treated worst, ties to the earlier part, so the
    same call always gives the same answer.

    >>> share(10000, [1, 1, 1])
    (3334, 3333, 3333)

    Nobody to share between is the caller's mistake:

    >>> share(10, [])
    Traceback (most recent call last):
        ...
    ValueError: nothing to share between: no weight is above zero
    """
    counts, _ = in_parts(weights)
    whole = sum(counts)
    if whole <= 0:
        raise ValueError("nothing to share between: no weight is above zero")
    parts = [total * count // whole for count in counts]
    left = total - sum(parts)
    by_rest = sorted(range(len(parts)), key=lambda i: (-(total * counts[i] % whole), i))
    for i in by_rest[:left]:
        parts[i] += 1
    return tuple(parts)
