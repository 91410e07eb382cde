"""When a day out begins: at the bench, at the van, on the road."""

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from sitegen.order.order import Order
from sitegen.order.run import Stop
from sitegen.order.trips import crew_of, trips
from sitegen.order.work import tasks
from sitegen.values.when import for_minutes


@dataclass(frozen=True, slots=True)
class SetOut:
    """Counted back from the first place: at the bench (None with nothing to build), loading, leaving."""

    first: Stop
    bench: dt.datetime | None
    load: dt.datetime
    leave: dt.datetime
    arrives: dt.datetime


def setting_out(order: Order, stops: Sequence[Stop]) -> tuple[SetOut, ...]:
    """Give each day out with a first place whose hour is known."""
    work, hands, found = order.priced.shared.studio.work, crew_of(order).hands, []
    for trip in trips(order):
        first = next((stop for stop in stops if stop.day == trip.day and stop.arrives), None)
        if first is None or first.arrives is None:
            continue
        leave = first.arrives - for_minutes(trip.way)
        load = leave - for_minutes(work.load)
        built = [task.minutes for task in tasks(order) if task.what == "build" and task.day == trip.day]
        bench = load - for_minutes(sum(built, Fraction(0)) / hands) if sum(built) else None
        found.append(SetOut(first, bench, load, leave, first.arrives))
    return tuple(found)
