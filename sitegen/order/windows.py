"""The days on which something may arrive for several events at once."""

import datetime as dt
from collections.abc import Iterable
from dataclasses import dataclass

from sitegen.model.catalogue import Supplier
from sitegen.order.calendar import GOODS_ARRIVE, Arrival, arrival
from sitegen.order.order import Order
from sitegen.values.when import Span

_WEEK = 7


@dataclass(frozen=True, slots=True)
class Window:
    """The first and the last day on which something may arrive."""

    first: dt.date
    last: dt.date

    @property
    def days(self) -> int:
        """Count its days; none or less where the first comes after the last."""
        return (self.last - self.first).days + 1


def window(span: Span, event: dt.date) -> Window:
    """Give the days that a span before *event* means; one without an end is a week long, as in `arrival`."""
    last = event - dt.timedelta(days=span.least)
    most = span.least + _WEEK - 1 if span.most is None else span.most
    return Window(event - dt.timedelta(days=most), last)


def met(windows: Iterable[Window]) -> Window:
    """Give the days that all *windows* have, which may be none."""
    every = list(windows)
    return Window(max(one.first for one in every), min(one.last for one in every))


def delivery_days(order: Order) -> Window | None:
    """Give the span of days in which anything that an order needs may arrive; None where it needs nothing."""
    event, stems = order.priced.folder.event.date, order.priced.shared.stems
    spans = [stems[name].arrive for name in order.need.stems]
    windows = [window(span, event) for span in (*spans, *([GOODS_ARRIVE] if order.need.goods else []))]
    if not windows:
        return None
    return Window(min(one.first for one in windows), max(one.last for one in windows))


def arrival_in(supplier: Supplier, days: Window) -> Arrival | None:
    """Give the supplier's last delivery day in a window, as `arrival` gives it for one event."""
    if days.days < 1:
        return None
    return arrival(supplier, Span(0, days.days - 1), days.last)
