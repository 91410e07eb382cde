"""From picks to a total: integer sums, and the charges, rates and rounding of the terms.

`browser/choose.js` does the same; the vectors in `tests/vectors/totals` bind the two.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from fractions import Fraction
from typing import Any, NamedTuple

from sitegen.choices.picks import Picks, each_of
from sitegen.choices.table import Part, Table, TableCharge, ratio_json
from sitegen.values.money import half_away, share

_NONE = Fraction(0)


@dataclass(frozen=True, slots=True)
class Totals:
    """A proposal's sums in smallest units; `taxable` is exact and rounded only where it is printed.

    `lines` has one amount for each piece, `charges` one for each charge, None
    where it was not chosen, `tax` one for each rate: added to the total, or
    contained in it where the table says so. `payments` add up to `total`.
    """

    lines: tuple[int, ...]
    subtotal: int
    discount: int
    charges: tuple[int | None, ...]
    taxable: Fraction
    tax: tuple[int, ...]
    total: int
    payments: tuple[int, ...]


def totals(table: Table, picks: Picks) -> Totals:
    """Give the sums for *picks*, which must fit *table*. Rounding is half away from zero throughout."""
    return sum_up(table, lines_of(table, picks), picks.charges)


def lines_of(table: Table, picks: Picks) -> tuple[int, ...]:
    """Quantity times price for each piece; 0 for one that is left out."""
    both = zip(table.pieces, picks.pieces, strict=True)
    return tuple(0 if pick.out else pick.quantity * each_of(piece, pick.answers) for piece, pick in both)


def sum_up(table: Table, lines: tuple[int, ...], chosen: frozenset[int]) -> Totals:
    """Give the sums for a line of each piece and the optional charges that were chosen."""
    sums = _sums(table, lines, chosen)
    return Totals(
        lines=lines,
        subtotal=sums.subtotal,
        discount=sums.discount,
        charges=sums.charges,
        taxable=sum(sums.taxed, _NONE),
        tax=share(sums.tax, table.rates) if any(table.rates) else (0,) * len(table.rates),
        total=sums.total,
        payments=tuple(_payments(table.payments, sums.total)),
    )


def total_of(table: Table, lines: tuple[int, ...], chosen: frozenset[int]) -> int:
    """Give the total alone, for the many answers of which no more is shown."""
    return _sums(table, lines, chosen).total


class _Sums(NamedTuple):
    """What a total is made of, before tax is split and payments made; tax is rounded on each of `taxed`."""

    subtotal: int
    discount: int
    charges: tuple[int | None, ...]
    taxed: list[Fraction]
    tax: int
    total: int


def _sums(table: Table, lines: tuple[int, ...], chosen: frozenset[int]) -> _Sums:
    subtotal = sum(lines)
    discount = min(_amount(table.discount, subtotal), subtotal) if table.discount else 0
    charges = tuple(
        charge_of(charge, subtotal) if i in chosen or not charge.optional else None
        for i, charge in enumerate(table.charges)
    )
    kept = Fraction(subtotal - discount, subtotal or 1)
    taxed = _taxed(table, lines, charges, kept)
    tax = _tax(table, taxed)
    before_tax = subtotal - discount + sum(filter(None, charges))
    total = before_tax if table.included else before_tax + tax
    return _Sums(subtotal, discount, charges, taxed, tax, total)


def charge_of(charge: TableCharge, subtotal: int) -> int:
    """Give a charge: fixed, or its share of the subtotal before the discount, and at least its least."""
    return max(_amount(charge.part, subtotal), charge.least)


def _amount(part: Part, of: int) -> int:
    return (part.amount or 0) if part.share is None else half_away(part.share * of)


def _taxed(
    table: Table, lines: tuple[int, ...], charges: tuple[int | None, ...], kept: Fraction
) -> list[Fraction]:
    """What tax is rounded on: each taxable line as the discount leaves it and each charge, or all in one."""
    pieces = [line for piece, line in zip(table.pieces, lines, strict=True) if piece.taxable]
    both = zip(table.charges, charges, strict=True)
    added = [amount for charge, amount in both if charge.taxable and amount is not None]
    if table.per_line:
        return [line * kept for line in pieces] + [Fraction(amount) for amount in added]
    return [sum(pieces) * kept + sum(added)]


def _tax(table: Table, taxed: list[Fraction]) -> int:
    """One sum from all rates together, added or contained."""
    rate = sum(table.rates, _NONE)
    factor = rate / (1 + rate) if table.included else rate
    return sum(half_away(base * factor) for base in taxed)


def _payments(parts: Iterable[Part | None], total: int) -> Iterator[int]:
    """None asks for more than is left, however small the total that was picked."""
    left = total
    for part in parts:
        paid = left if part is None else min(_amount(part, total), left)
        left -= paid
        yield paid


def totals_json(sums: Totals) -> dict[str, Any]:
    """Give *sums* as plain data for the shared vectors; `taxable` is `[numerator, denominator]`."""
    return {
        "lines": list(sums.lines),
        "subtotal": sums.subtotal,
        "discount": sums.discount,
        "charges": list(sums.charges),
        "taxable": ratio_json(sums.taxable),
        "tax": list(sums.tax),
        "total": sums.total,
        "payments": list(sums.payments),
    }
