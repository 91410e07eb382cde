"""The estimate: lines, charges, discount, tax, total and payments, as the couple read them."""

from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction

from sitegen.choices.picks import Picks
from sitegen.choices.received import settled, with_received
from sitegen.choices.table import Table
from sitegen.choices.totals import Totals, charge_of, totals
from sitegen.model.terms import Charge, Payment
from sitegen.price.priced import PricedEvent
from sitegen.render.couple import Estimate, Extra, Line, LineGroup, Sum
from sitegen.render.couple import Payment as Due
from sitegen.render.couple_piece import Tick
from sitegen.render.dates import long_date
from sitegen.render.voice import Voice
from sitegen.render.words import Words
from sitegen.values.number import decimal_text


def estimate(
    event: PricedEvent, table: Table, picks: Picks, parts: Mapping[str, Sequence[int]], voice: Voice
) -> Estimate:
    """Lay out the sums for *picks*, the suggested ones; *parts* holds the pieces of each part by title."""
    sums = totals(table, picks)
    money = voice.money
    least = event.shared.currency.units(event.folder.event.least or Fraction(0))
    return Estimate(
        groups=tuple(
            LineGroup(title, tuple(_line(event, i, sums, voice) for i in pieces))
            for title, pieces in parts.items()
        ),
        sums=tuple(sums_of(event, table, sums, voice)),
        total=money.exact(sums.total),
        contained=tuple(taxes_of(event, sums, voice)) if table.included else (),
        least=_least(least, voice) if least else "",
        below_least=sums.total < least,
        extras=tuple(_extras(event, table, picks, sums, voice)),
        payments=tuple(payments_of(event, sums, voice)),
        still=still_due(event, sums, voice),
    )


def received(event: PricedEvent) -> int:
    """Give what came in, in smallest units."""
    return sum(event.shared.currency.units(paid.amount) for paid in event.folder.event.paid)


def payable(event: PricedEvent, table: Table, picks: Picks) -> Table:
    """Give the table with the payments that are left once money came in."""
    if not event.folder.event.paid:
        return table
    units = received(event)
    return with_received(table, units, settled(totals(table, picks).payments, units))


def _least(least: int, voice: Voice) -> str:
    return voice.words(
        "We take on events from {price}; below that, let us talk.", price=voice.money.brief(least)
    )


def _line(event: PricedEvent, i: int, sums: Totals, voice: Voice) -> Line:
    piece = event.pieces[i]
    times = voice.times(piece.as_suggested.each, piece.file.quantity.usual)
    return Line(f"piece-{i + 1}", piece.file.piece.piece, times, voice.money.exact(sums.lines[i]))


def sums_of(event: PricedEvent, table: Table, sums: Totals, voice: Voice) -> Iterator[Sum]:
    """Give what stands between lines and total: their sum, discount, charges, and tax where it is added."""
    _, money = voice.words, voice.money
    yield Sum("subtotal", _("All pieces"), "", money.exact(sums.subtotal))
    discount = event.terms.discount
    if discount:
        detail = percent(discount.percent, voice)
        yield Sum("discount", discount.label or _("Discount"), detail, money.exact(-sums.discount))
    for i, (charge, amount) in enumerate(zip(event.terms.charges, sums.charges, strict=True)):
        detail = _of_pieces(charge, table.charges[i].least, voice)
        yield Sum(f"charge-{i + 1}", charge.label, detail, money.exact(amount or 0), shown=amount is not None)
    if not table.included:
        yield from taxes_of(event, sums, voice)


def _of_pieces(charge: Charge, least: int, voice: Voice) -> str:
    if charge.percent is None:
        return ""
    share = percent(charge.percent, voice)
    if not least:
        return voice.words("{percent} of the pieces", percent=share)
    said = voice.money.brief(least)
    return voice.words("{percent} of the pieces, at least {least}", percent=share, least=said)


def percent(share: Fraction | None, voice: Voice) -> str:
    """Print a share as a percent: `8.25%`; nothing where there is none."""
    return "" if share is None else voice.percent(decimal_text(share * 100))


def taxes_of(event: PricedEvent, sums: Totals, voice: Voice) -> Iterator[Sum]:
    """Give each tax: added to the total, or contained in it."""
    included = event.terms.tax.included
    for i, (rate, amount) in enumerate(zip(event.terms.tax.rates, sums.tax, strict=True)):
        label = voice.words("{tax} contained", tax=rate.label) if included else rate.label
        yield Sum(f"tax-{i + 1}", label, percent(rate.rate, voice), voice.money.exact(amount))


def _extras(event: PricedEvent, table: Table, picks: Picks, sums: Totals, voice: Voice) -> Iterator[Extra]:
    for i, charge in enumerate(table.charges):
        if charge.optional:
            amount = charge_of(charge, sums.subtotal)
            added = totals(table, Picks(picks.pieces, picks.charges | {i})).total
            label = event.terms.charges[i].label
            yield Extra(f"charge-{i + 1}", Tick(label, voice.step(amount), voice.leads_to(added)))


def payments_of(event: PricedEvent, sums: Totals, voice: Voice) -> Iterator[Due]:
    """Give what came in, then the payments to come: all together they are the total."""
    units = event.shared.currency.units
    for paid in sorted(event.folder.event.paid, key=lambda paid: paid.date):
        came = long_date(paid.date, voice.language)
        yield Due("", voice.words("Received"), came, voice.money.exact(units(paid.amount)))
    first = 1 if event.folder.event.paid else 0
    to_come = list(enumerate(sums.payments, 1))[first:]
    after = len(event.terms.payments) - len(to_come)
    for payment, (number, amount) in zip(event.terms.payments[after:], to_come, strict=True):
        share = percent(payment.percent, voice)
        label = f"{payment.label}, {share}" if share else payment.label
        yield Due(f"payment-{number}", label, _due(payment, event, voice), voice.money.exact(amount))


def still_words(_: Words) -> tuple[str, str]:
    """Give the words for what is still due, and for what came in above the total."""
    return _("Still due"), _("Received above the total")


def still_due(event: PricedEvent, sums: Totals, voice: Voice) -> Sum | None:
    """Say what is still due once money came in, or what came in above the total."""
    if not event.folder.event.paid:
        return None
    due = sums.total - received(event)
    still, above = still_words(voice.words)
    label = still if due >= 0 else above
    return Sum("still", label, "", voice.money.exact(abs(due)))


def _due(payment: Payment, event: PricedEvent, voice: Voice) -> str:
    day = payment.due.on(event.folder.event.date)
    if day is not None:
        return voice.words("by {date}", date=long_date(day, voice.language))
    if payment.due.words == "approval":
        return voice.words("when you approve")
    return payment.due.words
