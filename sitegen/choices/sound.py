"""Sums that cannot stand, found once an event is priced: as problems with their places."""

from collections.abc import Iterator
from fractions import Fraction

from sitegen.choices.totals import Totals
from sitegen.model.terms import Payment
from sitegen.price.priced import PricedEvent, PricedPiece
from sitegen.values.money import Currency, half_away
from sitegen.values.node import Map, Path, place_at
from sitegen.values.problem import Problem
from sitegen.values.source import Place


def sums(priced: PricedEvent, totals: Totals) -> Iterator[Problem]:
    """Check prices, payments and the least amount at the usual picks."""
    for piece in priced.pieces:
        yield from _own_price(priced, piece)
        yield from _below_nothing(piece)
    yield from _payments(priced, totals)
    yield from _discount(priced, totals)
    yield from _least(priced, totals)


def _own_price(priced: PricedEvent, piece: PricedPiece) -> Iterator[Problem]:
    own, money = piece.file.piece.price, priced.shared.currency
    computed = money.units(piece.as_suggested.exact)
    if own is not None and money.units(own) < computed:
        what = f"the price {money.text(money.units(own))} is below the computed {money.text(computed)}"
        why = "What the recipe costs with mark-up and labour comes to more than you ask."
        place = place_at(piece.file.node, ("price",))
        yield Problem("price-below", place, what, why, "raise it, or delete the line", "warning")


def _below_nothing(piece: PricedPiece) -> Iterator[Problem]:
    for combination in piece.combinations:
        if combination.each < 0:
            path = _adding(piece, combination.answers)
            what = "with this answer the price falls below zero"
            why = "The couple would be paid for taking the piece."
            fix = "take less off with add"
            yield Problem("price-negative", place_at(piece.file.node, path), what, why, fix)
            return


def _adding(piece: PricedPiece, answers: tuple[int, ...]) -> Path:
    choices = piece.file.piece.choices
    lines = [(c, a) for c, a in enumerate(answers) if choices[c].answers[a].add < 0]
    c, a = lines[0] if lines else (0, 0)
    return ("choices", c, "answers", a, "add")


def _payments(priced: PricedEvent, totals: Totals) -> Iterator[Problem]:
    if not priced.terms.payments:
        return
    money = priced.shared.currency
    parts = [_part(payment, totals.total, money) for payment in priced.terms.payments[:-1]]
    before_last = sum(parts)
    if before_last > totals.total:
        asked, total = money.text(before_last), money.text(totals.total)
        event = priced.folder.id
        what = f"{event}: payments of {asked} before the last are above the total of {total}"
        own = "payments" in priced.folder.node.entries
        fix = f"write payments: in the event.md of {event}, for it alone; those here are of every event"
        yield Problem(
            "payments-above",
            _terms_place(priced, "payments"),
            what,
            "Payments must add up to the total.",
            "lower one of them" if own else fix,
        )


def _part(payment: Payment, total: int, money: Currency) -> int:
    if payment.amount is not None:
        return money.units(payment.amount)
    return half_away((payment.percent or Fraction(0)) * total)


def _discount(priced: PricedEvent, totals: Totals) -> Iterator[Problem]:
    discount, money = priced.terms.discount, priced.shared.currency
    if (
        discount is not None
        and discount.amount is not None
        and money.units(discount.amount) > totals.subtotal
    ):
        what = f"the discount is above all pieces together, {money.text(totals.subtotal)}"
        place = _terms_place(priced, "discount")
        yield Problem(
            "discount-above", place, what, "The couple would be paid for their flowers.", "lower it"
        )


def _least(priced: PricedEvent, totals: Totals) -> Iterator[Problem]:
    least, money = priced.folder.event.least, priced.shared.currency
    if least is not None and totals.total < money.units(least):
        what = (
            f"the total of {money.text(totals.total)} is below your least of {money.text(money.units(least))}"
        )
        why = "The couple's page says so above the total."
        place = place_at(priced.folder.node, ("least",))
        yield Problem("least-below", place, what, why, "suggest more, or lower least", "warning")


def _terms_place(priced: PricedEvent, key: str) -> Place:
    """The line in the event where it sets its own, else in studio.md."""
    event: Map = priced.folder.node
    node = event if key in event.entries else priced.shared.nodes.studio
    return place_at(node, (key,), key=True)
