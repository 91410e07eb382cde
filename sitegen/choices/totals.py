"""From picks to a total: integer sums, and the charges, rates and rounding of the terms.

`browser/choose.js` does the same; the vectors in `tests/vectors/totals` bind the two.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

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
    subtotal = sum(lines)
    discount = min(_amount(table.discount, subtotal), subtotal) if table.discount else 0
    charges = tuple(
        charge_of(charge, subtotal) if i in chosen or not charge.optional else None
        for i, charge in enumerate(table.charges)
    )
    bases = _taxable(table, lines, charges, 1 - Fraction(discount, subtotal) if subtotal else _NONE)
    tax = _tax(table, bases)
    before_tax = subtotal - discount + sum(filter(None, charges))
    total = before_tax if table.included else before_tax + sum(tax)
    taxable, payments = sum(bases, _NONE), tuple(_payments(table.payments, total))
    return Totals(lines, subtotal, discount, charges, taxable, tax, total, payments)


def charge_of(charge: TableCharge, subtotal: int) -> int:
    """Give a charge: fixed, or its share of the subtotal before the discount, and at least its least."""
    return max(_amount(charge.part, subtotal), charge.least)


def _amount(part: Part, of: int) -> int:
    return (part.amount or 0) if part.share is None else half_away(part.share * of)


def _taxable(
    table: Table, lines: tuple[int, ...], charges: tuple[int | None, ...], kept: Fraction
) -> list[Fraction]:
    """What tax is rounded on: each taxable line as the discount leaves it and each charge, or all in one."""
    pieces = [line for piece, line in zip(table.pieces, lines, strict=True) if piece.taxable]
    both = zip(table.charges, charges, strict=True)
    added = [amount for charge, amount in both if charge.taxable and amount is not None]
    if table.per_line:
        return [line * kept for line in pieces] + [Fraction(amount) for amount in added]
    return [sum(pieces) * kept + sum(added)]


def _tax(table: Table, bases: list[Fraction]) -> tuple[int, ...]:
    """One sum from all rates together, rounded on each of the bases, then split over the rates."""
    rate = sum(table.rates, _NONE)
    if not rate:
        return (0,) * len(table.rates)
    factor = rate / (1 + rate) if table.included else rate
    return share(sum(half_away(base * factor) for base in bases), table.rates)


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
