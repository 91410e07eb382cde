"""The list of all events: a row for each, kept as plain values, and the page made of the rows on any day."""

import datetime as dt
from collections.abc import Iterable, Iterator
from dataclasses import asdict, dataclass, replace
from fractions import Fraction
from typing import Any
from urllib.parse import quote

from sitegen.choices.totals import Totals
from sitegen.model.terms import Studio
from sitegen.order.order import Order
from sitegen.price.priced import PricedEvent
from sitegen.render.couple_piece import Moment
from sitegen.render.dates import full_date, reads_from
from sitegen.render.desk import DeskIndex, IndexGroup, IndexOrder, IndexRow
from sitegen.render.desk_dates import DUE, dates_of
from sitegen.render.desk_figures import Figures, figures_for
from sitegen.render.desk_kept import Kept, OrderedTogether, keys_said, still_up
from sitegen.render.desk_late import below_least, too_late
from sitegen.render.desk_left import hands_of, left_of
from sitegen.render.desk_next import next_step, paid_entry, revision_said, short_name, stage_of
from sitegen.render.desk_progress import DRAFT, Progress
from sitegen.render.voice import florist_voice
from sitegen.values.money import Currency

_NOTHING = Kept()
_SOON = dt.timedelta(days=7)
_THEIRS = frozenset({"payment", "changes"})


@dataclass(frozen=True, slots=True)
class NextDate:
    """A day on which somebody has to act, as year-month-day; `kind` is one of `desk_dates.DUE`."""

    day: str
    kind: str
    what: str
    amount: str = ""


@dataclass(frozen=True, slots=True)
class DeskRow:
    """What the list has to know of an event. Private. Money is in smallest units, days are year-month-day.

    It says nothing that turns wrong when a day goes by, so a row can be kept until its event changes.
    `after_hands` is None where the crew's pay is not known; `current` and `pending` are those of `Progress`.
    """

    event: str
    day: str
    names: str
    title: str
    closed: str | None
    total: int
    before_tax: int
    left: int
    late: tuple[str, ...]
    dates: tuple[NextDate, ...]
    stage: str
    revision: int | None
    after_hands: int | None
    current: bool
    pending: bool


def desk_row(priced: PricedEvent, totals: Totals, order: Order, progress: Progress = DRAFT) -> DeskRow:
    """Give the row of an event for the picks that *totals* and *order* were made for."""
    event, voice = priced.folder.event, florist_voice(priced.shared.studio.language, priced.shared.currency)
    left, dates = left_of(totals, order), dates_of(priced, totals, order, voice, progress)
    hands = hands_of(order)
    return DeskRow(
        event=priced.folder.id,
        day=event.date.isoformat(),
        names=event.for_,
        title=event.event,
        closed=event.closed,
        total=totals.total,
        before_tax=left.before_tax,
        left=left.after_materials,
        late=(*too_late(order, voice), *below_least(priced, totals, voice)),
        dates=tuple(
            NextDate(due.day.isoformat(), due.kind, due.what, due.amount) for due in dates if due.kind in DUE
        ),
        stage=progress.stage,
        revision=progress.revision,
        after_hands=None if hands is None else left.after_materials - hands.cost,
        current=progress.current,
        pending=progress.pending,
    )


def row_to_json(row: DeskRow) -> dict[str, Any]:
    """Give *row* as plain data for JSON."""
    return asdict(row)


def row_from_json(data: dict[str, Any]) -> DeskRow:
    """Take back what `row_to_json` gave. Raises TypeError or KeyError where it is something else."""
    dates = tuple(NextDate(**date) for date in data["dates"])
    return DeskRow(**{**data, "late": tuple(data["late"]), "dates": dates})


def index_view(
    rows: Iterable[DeskRow], studio: Studio, currency: Currency, today: dt.date, kept: Kept = _NOTHING
) -> DeskIndex:
    """Make the list of all events as it stands *today*: what is next comes first.

    A proposal that was sent waits for the couple, unless something with it cannot wait.
    """
    figures = figures_for(studio.language, currency, today)
    _, rows = figures.voice.words, list(rows)
    over = sorted((row for row in rows if _over(row, today)), key=lambda row: (row.day, row.event))
    live = sorted((row for row in rows if not _over(row, today)), key=lambda row: _urgency(row, today))
    names = {row.event for row in rows}
    sides = {"you": _("Waiting for you"), "them": _("Waiting for the couple")}
    sides["nobody"] = _("Nothing due before {day}", day=figures.day(today + _SOON))
    groups = [(title, [row for row in live if _side(row, figures) == side]) for side, title in sides.items()]
    closed = tuple(_closed(row, figures) for row in reversed(over))
    return DeskIndex(
        language=figures.voice.language,
        direction=reads_from(figures.voice.language),
        studio=studio.studio,
        today=Moment(today.isoformat(), full_date(today, figures.voice.language)),
        count=_.plural("{n} live event", "{n} live events", len(live)),
        symbol=figures.symbol,
        groups=tuple(
            IndexGroup(title, tuple(_live(row, short_name(row.event, names), figures) for row in of_side))
            for title, of_side in groups
            if of_side
        ),
        closed=IndexGroup(_("Past, declined, cancelled"), closed) if closed else None,
        keys=keys_said(kept, figures),
        still_up=tuple(
            still_up(kept, [(row.event, row.names, short_name(row.event, names)) for row in over], figures)
        ),
        orders=tuple(_together(kept.orders, live, figures, currency)),
        begin="" if rows else f"sitegen new {today.year + 1}-06-12-walled-garden",
    )


def _together(
    orders: Iterable[OrderedTogether], live: Iterable[DeskRow], figures: Figures, currency: Currency
) -> Iterator[IndexOrder]:
    """List the orders for several events while one of these is still to come, in the order of their days."""
    known = {row.event: row for row in live}
    for one in orders:
        rows = [known[event] for event in one.events if event in known]
        if rows:
            title = figures.voice.listed(tuple(row.title for row in rows))
            cost = figures.voice.money.exact(currency.units(Fraction(one.cost)))
            day = figures.moment(dt.date.fromisoformat(rows[0].day))
            yield IndexOrder(day, quote(f"orders/{one.name}.html"), title, cost)


def _over(row: DeskRow, today: dt.date) -> bool:
    return row.closed is not None or dt.date.fromisoformat(row.day) < today


def _next(row: DeskRow, today: dt.date) -> NextDate:
    """Give the next day on which somebody has to act; the day itself is always one of them."""
    return next(date for date in row.dates if date.day >= today.isoformat())


def _asked(row: DeskRow, today: dt.date) -> NextDate:
    """Give the next date to act on: within a week one of hers goes before one of the couple's."""
    soon = (today + _SOON).isoformat()
    hers = (date for date in row.dates if today.isoformat() <= date.day < soon and date.kind not in _THEIRS)
    return next(hers, _next(row, today))


def _overdue(row: DeskRow, today: dt.date) -> NextDate | None:
    """Give the first payment of an approved event whose day is over."""
    over = (date for date in row.dates if date.kind == "payment" and date.day < today.isoformat())
    return next(over, None) if row.stage == "approved" else None


def _late(row: DeskRow, figures: Figures) -> tuple[str, ...]:
    """What cannot wait; of an approved event also payments whose day is over."""
    if row.stage != "approved":
        return row.late
    _, today = figures.voice.words, figures.today.isoformat()
    over = (date.what for date in row.dates if date.kind == "payment" and date.day < today)
    return (*row.late, *(_("{payment} is overdue", payment=what) for what in over))


def _side(row: DeskRow, figures: Figures) -> str:
    """Whose turn it is: a change that was sent waits for the couple, like a first proposal."""
    if _late(row, figures) or row.stage in {"draft", "answered"} or (row.stage == "sent" and not row.current):
        return "you"
    if row.stage == "sent" or row.pending:
        return "them"
    due = _asked(row, figures.today)
    if dt.date.fromisoformat(due.day) >= figures.today + _SOON:
        return "nobody"
    return "them" if due.kind in _THEIRS else "you"


def _urgency(row: DeskRow, today: dt.date) -> tuple[str, str, str]:
    return _next(row, today).day, row.day, row.event


def _live(row: DeskRow, called: str, figures: Figures) -> IndexRow:
    due = _asked(row, figures.today) if row.stage == "approved" else _next(row, figures.today)
    asks = _overdue(row, figures.today) or due
    paid = paid_entry(figures.today, asks.amount)
    pending = row.revision if row.pending and not _overdue(row, figures.today) else None
    what_for, command = next_step(
        row.stage, asks.kind, called, figures.voice.words, current=row.current, paid=paid, pending=pending
    )
    said = f"{figures.day(dt.date.fromisoformat(due.day))} {due.what}"
    return replace(
        _closed(row, figures), late=_late(row, figures), next=said, what_for=what_for, command=command
    )


def _closed(row: DeskRow, figures: Figures) -> IndexRow:
    day = dt.date.fromisoformat(row.day)
    return IndexRow(
        href=f"{quote(row.event)}/index.html",
        names=row.names,
        title=row.title,
        day=figures.moment(day),
        away=figures.away(day),
        stage=stage_of(row.closed, day, figures.today, figures.voice.words, row.stage),
        total=figures.amount(row.total),
        left=figures.amount(row.left),
        share=figures.share(row.left, row.before_tax),
        revision=revision_said(row.revision, figures.voice.words),
        after_hands="" if row.after_hands is None else figures.amount(row.after_hands),
        late=(),
        next="",
        what_for="",
        command="",
    )
