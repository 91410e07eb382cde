"""The sums on the florist's page of an event: the proposal, what is left of it, and the payments."""

from collections.abc import Iterator
from fractions import Fraction

from sitegen.choices.picks import Picks
from sitegen.choices.totals import Totals
from sitegen.order.order import Order
from sitegen.price.priced import PricedEvent
from sitegen.render.desk import GroupShare, Line, Payment
from sitegen.render.desk_dates import due_day, open_payments
from sitegen.render.desk_figures import Figures
from sitegen.render.desk_left import Left, hands_of
from sitegen.render.desk_pieces import length
from sitegen.render.desk_progress import DRAFT, Progress
from sitegen.values.money import share
from sitegen.values.number import decimal_text


def sum_lines(priced: PricedEvent, picks: Picks, totals: Totals, figures: Figures) -> tuple[Line, ...]:
    """The proposal from the pieces to the total, then the budget beside it."""
    _, amount = figures.voice.words, figures.amount
    terms = priced.terms
    lines = [Line(_("Pieces, {n}", n=sum(not pick.out for pick in picks.pieces)), amount(totals.subtotal))]
    if terms.discount and totals.discount:
        label = terms.discount.label or _("Discount")
        lines.append(Line(_rated(label, terms.discount.percent, figures), amount(-totals.discount)))
    for charge, units in zip(terms.charges, totals.charges, strict=True):
        if units is not None:
            lines.append(Line(_rated(charge.label, charge.percent, figures), amount(units)))
    taxes = [
        Line(_rated(rate.label, rate.rate, figures), amount(units))
        for rate, units in zip(terms.tax.rates, totals.tax, strict=True)
    ]
    total = Line(_("Total"), amount(totals.total), "sum")
    contained = [Line(_("of it {tax}", tax=line.label), line.amount, "note") for line in taxes]
    lines += [total, *contained] if terms.tax.included else [*taxes, total]
    return (*lines, *_budget(priced, totals, figures))


def _rated(label: str, rate: Fraction | None, figures: Figures) -> str:
    return label if rate is None else f"{label}, {figures.rate(rate)}"


def _budget(priced: PricedEvent, totals: Totals, figures: Figures) -> Iterator[Line]:
    _, budget = figures.voice.words, priced.folder.event.budget
    if budget is None:
        return
    over = totals.total - priced.shared.currency.units(budget)
    yield Line(_("Their budget"), figures.amount(totals.total - over), "note")
    if over:
        yield Line(_("over it") if over > 0 else _("under it"), figures.amount(abs(over)), "note")


def left_lines(left: Left, order: Order, figures: Figures, *, agreed: bool) -> tuple[Line, ...]:
    """What the order takes of the proposal, then what the hands take where the crew's pay is known."""
    _, amount = figures.voice.words, figures.amount
    suppliers = _.plural("Deliveries, {n} supplier", "Deliveries, {n} suppliers", len(order.deliveries))
    kept = f"{amount(left.after_materials)} · {figures.share(left.after_materials, left.before_tax)}"
    return (
        Line(_("Agreed, before tax") if agreed else _("Proposal, before tax"), amount(left.before_tax)),
        Line(_("Stems"), amount(-left.stems)),
        Line(_("Hard goods"), amount(-left.goods)),
        Line(suppliers, amount(-left.deliveries)),
        Line(_("Left after materials"), kept, "sum"),
        *_hands(order, left, figures),
    )


def _hands(order: Order, left: Left, figures: Figures) -> Iterator[Line]:
    hands = hands_of(order)
    if hands is None:
        return
    _, cost = figures.voice.words, hands.cost
    said = decimal_text(hands.hours, 1).replace(".", figures.voice.decimal)
    pay = figures.amount(order.priced.shared.currency.units(hands.pay))
    yield Line(_("Hands, {hours} h × {pay}", hours=said, pay=pay), figures.amount(-cost))
    yield Line(_("Left after hands"), figures.amount(left.after_materials - cost), "sum")


def group_shares(priced: PricedEvent, totals: Totals, figures: Figures) -> tuple[GroupShare, ...]:
    """What each group of pieces takes of the subtotal, in the order of the proposal."""
    groups: dict[str, int] = {}
    for piece, line in zip(priced.pieces, totals.lines, strict=True):
        name = piece.file.piece.group
        groups[name] = groups.get(name, 0) + line
    if not totals.subtotal:
        return ()
    widths = share(1000, list(groups.values()))
    starts = [sum(widths[:i]) for i in range(len(widths))]
    return tuple(
        GroupShare(
            name, figures.amount(units), figures.share(units, totals.subtotal), length(start), length(width)
        )
        for (name, units), start, width in zip(groups.items(), starts, widths, strict=True)
    )


def payment_lines(
    priced: PricedEvent, totals: Totals, figures: Figures, progress: Progress = DRAFT
) -> tuple[Payment, ...]:
    """The payments, then what came in and what is still to come."""
    _, event, money = figures.voice.words, priced.folder.event, priced.shared.currency
    lines = []
    still_open = [payment for payment, _units in open_payments(priced, totals)]
    for payment, units in zip(priced.terms.payments, totals.payments, strict=True):
        day = due_day(payment, event.date, progress)
        when = payment.due.words if day is None else figures.day(day)
        label, late = _rated(payment.label, payment.percent, figures), False
        if payment not in still_open:
            said = _("received")
        elif late := day is not None and day < figures.today and progress.stage == "approved":
            said = _("overdue since {day}", day=when)
        else:
            said = _("due {when}", when=when)
        lines.append(Payment(label, said, figures.amount(units), "late" if late else ""))
    for paid in event.paid:
        when = figures.day(paid.date) + (f", {paid.how}" if paid.how else "")
        lines.append(Payment(_("Received"), when, figures.amount(-money.units(paid.amount))))
    if event.paid:
        due = totals.total - sum(money.units(paid.amount) for paid in event.paid)
        label = _("Still to come") if due >= 0 else _("Received above the total")
        lines.append(Payment(label, "", figures.amount(abs(due)), "sum"))
    return tuple(lines)
