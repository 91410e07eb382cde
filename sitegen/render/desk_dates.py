"""The days of an event that ask for something: payments, changes, orders, deliveries, the bench, the day."""

import datetime as dt
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from sitegen.choices.totals import Totals
from sitegen.model.hours import bench_day
from sitegen.model.terms import Payment
from sitegen.order.order import Order
from sitegen.price.priced import PricedEvent
from sitegen.render.dates import clock
from sitegen.render.desk_progress import DRAFT, Progress
from sitegen.render.voice import Voice

DUE = frozenset({"payment", "changes", "held", "order", "delivery", "day"})
_APPROVAL = "approval"


@dataclass(frozen=True, slots=True)
class Due:
    """A day, and what is due or happens on it; those of a kind in `DUE` ask somebody to act.

    `amount` is that of a payment, as event.md has it.
    """

    day: dt.date
    kind: str
    what: str
    amount: str = ""


def dates_of(
    priced: PricedEvent, totals: Totals, order: Order, voice: Voice, progress: Progress = DRAFT
) -> tuple[Due, ...]:
    """List the days of an event in their order; on one day they stand as the work goes."""
    event = priced.folder.event
    found = [
        *_payments(priced, totals, voice, progress),
        *_held(progress, voice),
        *_changes(priced, voice),
        *_orders(order, voice),
        *_bench(priced, voice),
        Due(event.date, "day", voice.words("the day itself")),
        *_after(priced, voice),
    ]
    return tuple(sorted(found, key=lambda due: due.day))


def due_day(payment: Payment, event: dt.date, progress: Progress) -> dt.date | None:
    """Give the day on which a payment is due; what is due on approval is known once that is given."""
    return progress.approved if payment.due.words == _APPROVAL else payment.due.on(event)


def _held(progress: Progress, voice: Voice) -> Iterator[Due]:
    if progress.held is not None and progress.stage == "sent":
        yield Due(progress.held, "held", voice.words("prices run out"))


def _payments(priced: PricedEvent, totals: Totals, voice: Voice, progress: Progress) -> Iterator[Due]:
    for payment, units in open_payments(priced, totals):
        day = due_day(payment, priced.folder.event.date, progress)
        if day is not None:
            yield Due(
                day,
                "payment",
                f"{payment.label} {voice.money.exact(units)}",
                priced.shared.currency.text(units),
            )


def open_payments(priced: PricedEvent, totals: Totals) -> list[tuple[Payment, int]]:
    """Give the payments still to come, in smallest units: what came in goes to the first ones first."""
    money = priced.shared.currency
    came = sum(money.units(paid.amount) for paid in priced.folder.event.paid)
    found = []
    for payment, units in zip(priced.terms.payments, totals.payments, strict=True):
        covered = min(came, units)
        came -= covered
        if covered < units:
            found.append((payment, units - covered))
    return found


def _changes(priced: PricedEvent, voice: Voice) -> Iterator[Due]:
    event = priced.folder.event
    if event.changes_close is not None:
        day = event.date - dt.timedelta(days=event.changes_close)
        yield Due(day, "changes", voice.words("changes close"))
    if event.collect is not None:
        at, where = event.collect.at, event.collect.where
        said = voice.words(
            "they collect at {time}, {where}", time=clock(at.time(), voice.language), where=where
        )
        yield Due(at.date(), "collect", said)


def _orders(order: Order, voice: Voice) -> Iterator[Due]:
    _ = voice.words
    arrivals = [(row.arrival, row.supplier) for row in order.rows if row.arrival is not None]
    ask = [(row.arrival, row.supplier) for row in order.added if row.arrival is not None]
    for day, names in _by_day(((arrival.order_by, who) for arrival, who in ask), order):
        yield Due(day, "order", _("order {suppliers}", suppliers=voice.listed(names)))
    for day, names in _by_day(((arrival.day, who) for arrival, who in arrivals), order):
        yield Due(day, "delivery", _("delivery: {suppliers}", suppliers=voice.listed(names)))


def _by_day(pairs: Iterable[tuple[dt.date, str]], order: Order) -> Iterator[tuple[dt.date, tuple[str, ...]]]:
    """Gather suppliers' names by day; both in order, so that the same order reads the same."""
    days: dict[dt.date, dict[str, None]] = {}
    for day, supplier in pairs:
        days.setdefault(day, {})[order.priced.shared.suppliers[supplier].name] = None
    for day in sorted(days):
        yield day, tuple(sorted(days[day]))


def _bench(priced: PricedEvent, voice: Voice) -> Iterator[Due]:
    """Days on which pieces are built ahead; what is built on the day needs no line of its own."""
    ahead: dict[dt.date, list[str]] = {}
    for file in priced.folder.pieces:
        if file.piece.bench.days_before:
            ahead.setdefault(bench_day(file.piece, priced.folder.event), []).append(file.piece.piece)
    for day, names in ahead.items():
        yield Due(day, "bench", voice.words("bench: {pieces}", pieces=voice.listed(tuple(names))))


def _after(priced: PricedEvent, voice: Voice) -> Iterator[Due]:
    back = priced.folder.event.hire_back
    if back is not None:
        time = clock(back.time(), voice.language)
        yield Due(back.date(), "back", voice.words("hire pieces back by {time}", time=time))
