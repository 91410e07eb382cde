"""Whose what is of an order for several events: how much of each thing, and what of the money."""

import datetime as dt
from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction

from sitegen.order.order import Order
from sitegen.order.placed import Bought
from sitegen.order.placing import bought
from sitegen.order.together import Together
from sitegen.render.order_split_page import Split, SplitEvent, SplitRow
from sitegen.render.order_voice import NB, OrderVoice
from sitegen.values.length import Length
from sitegen.values.number import total


def split(voice: OrderVoice, made: Together) -> Split:
    """Lay out each event's part of what *voice* tells as one order."""
    _ = voice.words
    placed = any(order.before.placings for order in made.orders)
    parts = [_Part(order, tuple(_rows(made, i)), _fees(made, i)) for i, order in enumerate(made.orders)]
    return Split(
        head=voice.head("split", _("Whose what is"), _("Not approved: nothing is bought yet.")),
        lead=_("By what each event needs. All parts add up to the order, to the cent."),
        symbol=voice.symbol,
        events=tuple(_event(voice, part, told_apart=not placed) for part in parts),
        cost=voice.money(total(part.cost for part in parts)),
        apart="" if placed else voice.money(made.alone),
    )


@dataclass(frozen=True, slots=True)
class _Part:
    """What is one event's: what stays of all that was placed, with its days, and what is to be bought."""

    order: Order
    rows: tuple[tuple[Bought, dt.date | None], ...]
    fees: Fraction

    @property
    def cost(self) -> Fraction:
        return total((*(row.cost for row, _ in self.rows), self.fees))


def _rows(made: Together, event: int) -> Iterator[tuple[Bought, dt.date | None]]:
    order = made.orders[event]
    for row in order.before.rows:
        yield bought(order.priced.shared, row), row.placed
    for one in made.rows:
        if event in one.parts and one.parts[event].amount:
            yield bought(made.shared, replace(one.row, part=one.parts[event])), None


def _fees(made: Together, event: int) -> Fraction:
    return total((*made.orders[event].before.fees.values(), *made.fee_parts[event].values()))


def _event(voice: OrderVoice, part: _Part, *, told_apart: bool) -> SplitEvent:
    event = part.order.priced.folder.event
    return SplitEvent(
        title=event.event,
        day=voice.date(event.date),
        rows=tuple(_row(voice, row, placed) for row, placed in part.rows),
        deliveries=voice.money(part.fees) if part.fees else "",
        cost=voice.money(part.cost),
        apart=voice.money(part.order.cost) if told_apart else "",
    )


def _row(voice: OrderVoice, row: Bought, placed: dt.date | None) -> SplitRow:
    size = voice.amount(row.length) if row.length else str(int(row.size))
    amount = voice.amount(Length(row.amount, "m").to(row.length.unit)) if row.length else str(int(row.amount))
    return SplitRow(
        name=row.name,
        amount=amount,
        of=f"{row.packs} × {'~' if row.about else ''}{size}".replace(" ", NB),
        supplier=row.supplier_name,
        cost=voice.money(row.cost),
        placed=voice.words("placed {day}", day=voice.day(placed)) if placed else "",
    )
