"""A message to each supplier, in the supplier's own words and without a price, ready to copy into a mail."""

import datetime as dt
from collections.abc import Iterator, Sequence
from itertools import groupby
from urllib.parse import quote

from sitegen.model.catalogue import Supplier
from sitegen.order.order import Order
from sitegen.order.row import Row
from sitegen.render.dates import full_date
from sitegen.render.desk import SupplierMessage
from sitegen.render.order_buying import holds
from sitegen.render.order_voice import NB, OrderVoice, order_voice
from sitegen.values.number import total


def messages(order: Order, today: dt.date) -> tuple[SupplierMessage, ...]:
    """Give a message for each supplier who has to hear something now, in the order of their last days."""
    voice = order_voice(order, today)
    told = [(_due(order, supplier), supplier) for supplier in order.to_send]
    return tuple(
        SupplierMessage(
            supplier=voice.shared.suppliers[supplier].name,
            summary=_summary(voice, supplier, due),
            mail=quote(voice.shared.suppliers[supplier].email or "", safe="@+"),
            text=_text(voice, supplier),
            list=quote(f"order-{supplier}.csv"),
        )
        for due, supplier in sorted(told, key=lambda one: one[0] or dt.date.max)
    )


def _due(order: Order, supplier: str) -> dt.date | None:
    """The first last day on which something of it can be ordered."""
    days = (row.arrival.order_by for row in order.added if row.arrival and row.supplier == supplier)
    return min(days, default=None)


def _summary(voice: OrderVoice, supplier: str, due: dt.date | None) -> str:
    """Say what it costs, which the message does not, and until when it is to be sent."""
    _, order = voice.words, voice.order
    rows = [row for row in order.added if row.supplier == supplier]
    fee = order.added_fees.get(supplier, 0)
    spent = voice.money(total((*(row.cost for row in rows), fee)))
    sum_ = _("{sum} with delivery", sum=spent) if fee else spent
    when = _("order by {day}", day=voice.day(due)) if due else _("day to agree")
    cancels = any(row.supplier == supplier for row in order.before.cancelled)
    parts = ((sum_, when) if rows else (), (_("something to cancel"),) if cancels else ())
    return " · ".join(part for group in parts for part in group)


def _text(voice: OrderVoice, supplier: str) -> str:
    """Write who orders, then what to add and what to cancel, each by its day, and a thank-you."""
    _, order, studio = voice.words, voice.order, voice.shared.studio
    sells = voice.shared.suppliers[supplier]
    who = (
        _("{studio}, customer {number}", studio=studio.studio, number=sells.customer)
        if sells.customer
        else ""
    )
    changing = bool(order.before.placings)
    lines = [who or studio.studio, ""]
    for said, rows in ((_("Please add"), order.added), (_("Please cancel"), order.before.cancelled)):
        mine = [row for row in rows if row.supplier == supplier]
        for day, coming in groupby(sorted(mine, key=_arrives), key=_arrives):
            lines += [_heading(voice, sells, day, said if changing else ""), *_lines(voice, list(coming)), ""]
    contact = ", ".join(part for part in (studio.contact.name, studio.contact.phone) if part)
    return "\n".join((*lines, f"{_('Thank you.')} {contact}".rstrip()))


def _arrives(row: Row) -> dt.date:
    return row.arrival.day if row.arrival else dt.date.max


def _heading(voice: OrderVoice, supplier: Supplier, day: dt.date, change: str) -> str:
    _ = voice.words
    when = _("day to agree") if day == dt.date.max else full_date(day, voice.voice.language)
    hours = supplier.hours.replace("-", "–") if supplier.hours else ""
    for_ = _("for {day}", day=when) if supplier.brings is not False else _("to be fetched on {day}", day=when)
    said = ", ".join(part for part in (change, for_, hours) if part)
    return f"{said[:1].upper()}{said[1:]}:"


def _lines(voice: OrderVoice, rows: Sequence[Row]) -> Iterator[str]:
    """One line a lot: how many packs, in a column, what the supplier calls it, how much one holds."""
    _ = voice.words
    counts = [_packs(voice, row) for row in rows]
    wide = max(map(len, counts))
    for row, count in zip(rows, counts, strict=True):
        size, _all, about, sold_as = holds(voice, row)
        of = _("about {size} a bunch", size=size) if about else _("{size} a bunch", size=size)
        each = of if row.thing.kind == "stem" else _("{size} a pack", size=size)
        yield f"{count:<{wide}}  {sold_as or voice.name(row.thing)} ({each})".replace(NB, " ")


def _packs(voice: OrderVoice, row: Row) -> str:
    _ = voice.words
    if row.thing.kind == "stem":
        return _.plural("{n} bunch", "{n} bunches", row.packs)
    return _.plural("{n} pack", "{n} packs", row.packs)
