"""The terms of a revision, from the table and the labels that its snapshot holds."""

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction

from sitegen.choices.table import Part
from sitegen.model.content import Terms
from sitegen.model.terms import Charge, Discount, Payment, Tax, TaxRate, due
from sitegen.price.priced import PricedEvent
from sitegen.records.shown import Shown
from sitegen.values.money import Currency


def restored_terms(shown: Shown, now: Terms, money: Currency) -> Terms:
    """Give the terms that the couple were shown; the crew is the studio's own affair, as it is *now*."""
    table, labels = shown.table, shown.labels
    rates = zip(labels.taxes, table.rates, strict=True)
    return Terms(
        charges=tuple(_charges(shown, money)),
        discount=_discount(table.discount, labels.discount, money),
        tax=Tax.model_construct(
            rates=tuple(TaxRate.model_construct(label=label, rate=rate) for label, rate in rates),
            included=table.included,
            rounding="line" if table.per_line else "invoice",
        ),
        payments=tuple(_payments(shown, money)),
        crew=now.crew,
    )


def _charges(shown: Shown, money: Currency) -> Iterator[Charge]:
    for charge, label in zip(shown.table.charges, shown.labels.charges, strict=True):
        percent, amount = _part(charge.part, money)
        yield Charge.model_construct(
            id=charge.id,
            label=label,
            percent=percent,
            amount=amount,
            least=money.amount(charge.least) if charge.least else None,
            taxable=charge.taxable,
            optional=charge.optional,
        )


def _discount(part: Part | None, label: str | None, money: Currency) -> Discount | None:
    if part is None:
        return None
    percent, amount = _part(part, money)
    return Discount.model_construct(percent=percent, amount=amount, label=label)


def _payments(shown: Shown, money: Currency) -> Iterator[Payment]:
    """Days before the event follow its date, as the words say."""
    for part, told in zip(shown.table.payments, shown.labels.payments, strict=True):
        percent, amount = (None, None) if part is None else _part(part, money)
        yield Payment.model_construct(
            label=told.label, percent=percent, amount=amount, rest=part is None, due=due(told.words)
        )


def _part(part: Part, money: Currency) -> tuple[Fraction | None, Fraction | None]:
    return part.share, None if part.amount is None else money.amount(part.amount)


def with_charges(event: PricedEvent, chosen: frozenset[int]) -> PricedEvent:
    """Give an event in which no charge is left to choose: of the optional ones those chosen stand there."""
    charges = tuple(
        charge.model_copy(update={"optional": False})
        for i, charge in enumerate(event.terms.charges)
        if i in chosen or not charge.optional
    )
    return replace(event, terms=replace(event.terms, charges=charges))
