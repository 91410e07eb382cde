"""The table of prices and terms that totals are made from, here and in the browser."""

from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from sitegen.model.terms import Charge, Payment
from sitegen.price.priced import PricedEvent, PricedPiece
from sitegen.values.money import Currency


@dataclass(frozen=True, slots=True)
class Part:
    """A share of something, or a fixed amount in smallest units: one of the two is None."""

    share: Fraction | None
    amount: int | None


@dataclass(frozen=True, slots=True)
class TablePiece:
    """A piece: its price for every combination of answers, and how many there may be.

    *answers* says how many answers each choice has; *each* holds a price in
    smallest units for every combination, the last choice turning fastest.
    """

    id: str
    answers: tuple[int, ...]
    usual: tuple[int, ...]
    each: tuple[int, ...]
    quantity: int
    least: int
    most: int
    optional: bool
    taxable: bool


@dataclass(frozen=True, slots=True)
class TableCharge:
    """A charge; *least* holds for a share alone, in smallest units."""

    id: str
    part: Part
    least: int
    optional: bool
    taxable: bool


@dataclass(frozen=True, slots=True)
class Table:
    """All that a total depends on but the picks. Money is in smallest units, shares are exact.

    *payments* holds None for one that takes the rest.
    """

    digits: int
    pieces: tuple[TablePiece, ...]
    charges: tuple[TableCharge, ...]
    discount: Part | None
    rates: tuple[Fraction, ...]
    included: bool
    per_line: bool
    payments: tuple[Part | None, ...]


def table(priced: PricedEvent) -> Table:
    """Give the table of a priced event. Fixed amounts are rounded to the smallest unit here."""
    money, terms = priced.shared.currency, priced.terms
    discount = terms.discount
    return Table(
        digits=money.digits,
        pieces=tuple(_piece(piece) for piece in priced.pieces),
        charges=tuple(_charge(charge, money) for charge in terms.charges),
        discount=_part(discount.percent, discount.amount, money) if discount else None,
        rates=tuple(rate.rate for rate in terms.tax.rates),
        included=terms.tax.included,
        per_line=terms.tax.rounding == "line",
        payments=_payments(terms.payments, money),
    )


def _piece(priced: PricedPiece) -> TablePiece:
    piece, quantity = priced.file.piece, priced.file.quantity
    return TablePiece(
        id=priced.id,
        answers=tuple(len(choice.answers) for choice in piece.choices),
        usual=priced.as_suggested.answers,
        each=tuple(combination.each for combination in priced.combinations),
        quantity=quantity.usual,
        least=quantity.least,
        most=quantity.most,
        optional=piece.optional,
        taxable=piece.taxable,
    )


def _charge(charge: Charge, money: Currency) -> TableCharge:
    return TableCharge(
        id=charge.id,
        part=_part(charge.percent, charge.amount, money),
        least=money.units(charge.least or Fraction(0)),
        optional=charge.optional,
        taxable=charge.taxable,
    )


def _payments(payments: tuple[Payment, ...], money: Currency) -> tuple[Part | None, ...]:
    """The last payment takes the rest, whatever it says, so that all add up."""
    last = len(payments) - 1
    return tuple(
        None if payment.rest or i == last else _part(payment.percent, payment.amount, money)
        for i, payment in enumerate(payments)
    )


def _part(percent: Fraction | None, amount: Fraction | None, money: Currency) -> Part:
    return Part(percent, None if amount is None else money.units(amount))


def table_json(table: Table) -> dict[str, Any]:
    """Give *table* as plain data for JSON: what the page carries and the shared vectors hold.

    A share is `[numerator, denominator]`, a fixed amount an integer of smallest
    units; where there is no discount it is null, and a payment that is null
    takes the rest. Whoever computes with it needs whole numbers without a limit,
    such as a script's BigInt: products of amounts and ratios pass 2**53.

        {"digits": 2,
         "pieces": [{"id": "low-bowls", "answers": [3], "usual": [1], "each": [3800, 5500, 8100],
                     "quantity": 5, "least": 4, "most": 8, "optional": false, "taxable": true}],
         "charges": [{"id": "delivery", "part": [3, 25], "least": 9000, "optional": false, "taxable": true},
                     {"id": "late", "part": 15000, "least": 0, "optional": true, "taxable": false}],
         "discount": [1, 20], "rates": [[1, 16], [1, 100]], "included": false, "per_line": false,
         "payments": [[3, 10], null]}
    """
    return {
        "digits": table.digits,
        "pieces": [_piece_json(piece) for piece in table.pieces],
        "charges": [
            {
                "id": charge.id,
                "part": _part_json(charge.part),
                "least": charge.least,
                "optional": charge.optional,
                "taxable": charge.taxable,
            }
            for charge in table.charges
        ],
        "discount": table.discount and _part_json(table.discount),
        "rates": [ratio_json(rate) for rate in table.rates],
        "included": table.included,
        "per_line": table.per_line,
        "payments": [payment and _part_json(payment) for payment in table.payments],
    }


def _piece_json(piece: TablePiece) -> dict[str, Any]:
    return {
        "id": piece.id,
        "answers": list(piece.answers),
        "usual": list(piece.usual),
        "each": list(piece.each),
        "quantity": piece.quantity,
        "least": piece.least,
        "most": piece.most,
        "optional": piece.optional,
        "taxable": piece.taxable,
    }


def _part_json(part: Part) -> list[int] | int | None:
    return part.amount if part.share is None else ratio_json(part.share)


def ratio_json(ratio: Fraction) -> list[int]:
    """Give `[numerator, denominator]`, reduced, the denominator above 0."""
    return [ratio.numerator, ratio.denominator]
