"""figures.json: everything computed of one event, for bookkeeping and checks. Private."""

from collections.abc import Mapping
from fractions import Fraction
from typing import Any

from sitegen.choices.picks import Pick, Picks
from sitegen.choices.totals import Totals
from sitegen.model.piece import Piece
from sitegen.price.priced import Combination, PricedEvent, PricedPiece
from sitegen.values.bag import Bag
from sitegen.values.length import Length
from sitegen.values.money import Currency, half_away
from sitegen.values.number import decimal_text


def figures(
    priced: PricedEvent,
    picks: Picks,
    sums: Totals,
    order: Mapping[str, Any],
    revision: int | None,
    stage: str,
) -> dict[str, Any]:
    """Give the figures of an event at *picks* and their *sums*; *order* is the ready part of the order.

    Money is text with the currency's digits, amounts of stems are decimal text,
    a third rounded at six digits. Cost and margin are of one piece, labour
    counted as no cost. A piece that is left out has the quantity 0.
    """
    money = priced.shared.currency
    return {
        "event": priced.folder.id,
        "date": priced.folder.event.date.isoformat(),
        "currency": money.code,
        "revision": revision,
        "stage": stage,
        "pieces": [
            _piece(piece, pick, line, money)
            for piece, pick, line in zip(priced.pieces, picks.pieces, sums.lines, strict=True)
        ],
        **_sums(priced, sums),
        "order": order,
    }


def _sums(priced: PricedEvent, sums: Totals) -> dict[str, Any]:
    money, terms, day = priced.shared.currency, priced.terms, priced.folder.event.date
    charges = zip(terms.charges, sums.charges, strict=True)
    tax = zip(terms.tax.rates, sums.tax, strict=True)
    payments = [
        (payment.label, payment.due.on(day), payment.due.words, money.text(amount))
        for payment, amount in zip(terms.payments, sums.payments, strict=True)
    ]
    return {
        "subtotal": money.text(sums.subtotal),
        "discount": money.text(sums.discount),
        "charges": [
            {"id": charge.id, "amount": money.text(amount)}
            for charge, amount in charges
            if amount is not None
        ],
        "taxable": money.text(half_away(sums.taxable)),
        "tax": [{"label": rate.label, "amount": money.text(amount)} for rate, amount in tax],
        "total": money.text(sums.total),
        "payments": [
            {"label": label, "due": due.isoformat() if due else words, "amount": amount}
            for label, due, words, amount in payments
        ],
    }


def _piece(priced: PricedPiece, pick: Pick, line: int, money: Currency) -> dict[str, Any]:
    piece, picked = priced.file.piece, priced.at(pick.answers)
    margin = money.amount(picked.each) - picked.cost
    # Combinations share a recipe where the answers that differ do not touch it.
    shared = {id(one.made.recipe): one.made.recipe for one in priced.combinations}
    recipes = {key: _recipe(recipe) for key, recipe in shared.items()}
    return {
        "id": priced.id,
        "piece": piece.piece,
        "quantity": 0 if pick.out else pick.quantity,
        "each": money.text(picked.each),
        "line": money.text(line),
        "cost": money.text(money.units(picked.cost)),
        "margin": money.text(money.units(margin)),
        "answers": _answers(piece, picked),
        "recipe": recipes[id(picked.made.recipe)],
        "goods": {good: _good(n) for good, n in picked.made.goods.items()},
        "combinations": [
            {
                "answers": _answers(piece, one),
                "each": money.text(one.each),
                "cost": money.text(money.units(one.cost)),
                "recipe": recipes[id(one.made.recipe)],
            }
            for one in priced.combinations
        ],
    }


def _answers(piece: Piece, combination: Combination) -> dict[str, str]:
    both = zip(piece.choices, combination.answers, strict=True)
    return {choice.id: choice.answers[answer].id for choice, answer in both}


def _recipe(recipe: Bag) -> dict[str, str]:
    return {stem: decimal_text(n) for stem, n in recipe.items()}


def _good(amount: Fraction | Length) -> str:
    return str(amount) if isinstance(amount, Length) else decimal_text(amount)
