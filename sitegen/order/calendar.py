"""When a supplier can bring something, and until when it has to be ordered."""

import datetime as dt
from collections.abc import Container
from dataclasses import dataclass

from sitegen.model.catalogue import Supplier
from sitegen.values.when import Span

GOODS_ARRIVE = Span(1)  # hard goods: the day before the event at the latest
_WEEK = 7


@dataclass(frozen=True, slots=True)
class Arrival:
    """The day something comes, and the last day to order it.

    `closed` is the day on which the order would have been due, had the
    supplier not been closed; None where nothing had to move.
    """

    day: dt.date
    order_by: dt.date
    closed: dt.date | None = None

    def can_come(self, today: dt.date) -> bool:
        """Tell whether it can still be ordered; the last day counts."""
        return today <= self.order_by


def arrival(supplier: Supplier, span: Span, event: dt.date) -> Arrival | None:
    """Give the supplier's last delivery day that is at least and at most so many days before *event*.

    The order is due `order_days` before it, or on the open day before where
    the supplier is closed. None where no delivery weekday falls in the span,
    or the supplier is never open.
    """
    day = _delivery(supplier, span, event)
    if day is None:
        return None
    due = day - dt.timedelta(days=supplier.order_days)
    open_day = _last(due, supplier.closed, _WEEK)
    if open_day is None:
        return None
    return Arrival(day, open_day, closed=None if open_day == due else due)


def _delivery(supplier: Supplier, span: Span, event: dt.date) -> dt.date | None:
    latest = event - dt.timedelta(days=span.least)
    days = _WEEK if span.most is None else span.most - span.least + 1
    never = frozenset() if supplier.delivers is None else frozenset(range(_WEEK)) - supplier.delivers
    return _last(latest, never, min(days, _WEEK))


def _last(latest: dt.date, without: Container[int], days: int) -> dt.date | None:
    """Give the last of so many days up to *latest* whose weekday is not one of *without*."""
    span = (latest - dt.timedelta(days=back) for back in range(days))
    return next((day for day in span if day.weekday() not in without), None)
