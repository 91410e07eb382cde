"""Whose what is of an order for several events: how much of each thing, and what of the money."""

import datetime as dt
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from math import ceil

from sitegen.order.order import Order
from sitegen.order.passing import Passed
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
    parts = [_part(made, i) for i in range(len(made.orders))]
    names = tuple(order.priced.folder.event.event for order in made.orders)
    return Split(
        head=voice.head("split", _("Whose what is"), _("Not approved: nothing is bought yet.")),
        lead=_("By what each event needs. All parts add up to the order, to the cent."),
        symbol=voice.symbol,
        events=tuple(_event(voice, part, names, told_apart=not placed) for part in parts),
        cost=voice.money(total(part.cost for part in parts)),
        apart="" if placed else voice.money(made.alone),
    )


@dataclass(frozen=True, slots=True)
class _Part:
    """What is one event's: what stays of all that was placed, with its days, and what is to be bought."""

    order: Order
    rows: tuple[tuple[Bought, dt.date | None], ...]
    fees: Fraction
    given: tuple[Passed, ...]
    taken: tuple[Passed, ...]

    @property
    def cost(self) -> Fraction:
        """What it comes to, with what is taken over from others, and without what they take over."""
        moved = total(one.cost for one in self.taken) - total(one.cost for one in self.given)
        return total((*(row.cost for row, _ in self.rows), self.fees, moved))


def _part(made: Together, event: int) -> _Part:
    return _Part(
        made.orders[event],
        tuple(_rows(made, event)),
        _fees(made, event),
        tuple(one for one in made.passed if one.giver == event),
        tuple(one for one in made.passed if one.taker == event),
    )


def _rows(made: Together, event: int) -> Iterator[tuple[Bought, dt.date | None]]:
    order = made.orders[event]
    for row in order.before.rows:
        yield bought(order.priced.shared, row), row.placed
    for one in made.rows:
        if event in one.parts and one.parts[event].amount:
            yield bought(made.shared, replace(one.row, part=one.parts[event])), None


def _fees(made: Together, event: int) -> Fraction:
    return total((*made.orders[event].before.fees.values(), *made.fee_parts[event].values()))


def _event(voice: OrderVoice, part: _Part, names: Sequence[str], *, told_apart: bool) -> SplitEvent:
    event, _ = part.order.priced.folder.event, voice.words
    held = [(row, _("placed {day}", day=voice.day(day)) if day else "") for row, day in part.rows]
    taken = [(_moved(one, 1), _("from {event}", event=names[one.giver])) for one in part.taken]
    given = [(_moved(one, -1), _("to {event}", event=names[one.taker])) for one in part.given]
    return SplitEvent(
        title=event.event,
        day=voice.date(event.date),
        rows=tuple(_row(voice, row, said) for row, said in (*held, *taken, *given)),
        deliveries=voice.money(part.fees) if part.fees else "",
        cost=voice.money(part.cost),
        apart=voice.money(part.order.cost) if told_apart else "",
    )


def _moved(one: Passed, sign: int) -> Bought:
    bought = one.holding.bought
    packs = ceil(one.amount / bought.size)
    return replace(bought, amount=sign * one.amount, cost=sign * one.cost, packs=packs)


def _row(voice: OrderVoice, row: Bought, placed: str) -> SplitRow:
    size = voice.amount(row.length) if row.length else str(int(row.size))
    amount = voice.amount(Length(row.amount, "m").to(row.length.unit)) if row.length else str(int(row.amount))
    amount = amount.replace("-", "−")  # as money has it
    return SplitRow(
        name=row.name,
        amount=amount,
        of=f"{row.packs} × {'~' if row.about else ''}{size}".replace(" ", NB),
        supplier=row.supplier_name,
        cost=voice.money(row.cost),
        placed=placed,
    )
