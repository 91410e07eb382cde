"""How the crew comes to each place of its round, where minutes for it are written."""

import datetime as dt
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction

from sitegen.model.event import Place
from sitegen.order.order import Order
from sitegen.order.run import Stop
from sitegen.order.trips import apart, trips
from sitegen.values.when import for_minutes


@dataclass(frozen=True, slots=True)
class Drive:
    """From a place, or the studio (None), to a stop; the last moment to leave, where its hour is known."""

    origin: Place | None
    minutes: Fraction
    leave: dt.datetime | None


def drives(order: Order, stops: Sequence[Stop]) -> Mapping[str, Drive]:
    """Give the drive to each stop of the round, by its id; none where no minutes are written."""
    found: dict[str, Drive] = {}
    ways = {trip.day: trip.way for trip in trips(order)}
    before: dict[dt.date, Place] = {}
    for stop in stops:
        if stop.place is None or not _visited(stop):
            continue
        origin, event = before.get(stop.day), order.priced.folder.event
        minutes = apart(event, origin, stop.place) if origin else ways.get(stop.day, Fraction(0))
        if minutes:
            found[stop.id] = Drive(origin, minutes, stop.arrives and stop.arrives - for_minutes(minutes))
        before[stop.day] = stop.place
    return found


def _visited(stop: Stop) -> bool:
    """Whether the crew comes here on its round: what only moves here comes with the move."""
    return any(step.kind in {"set", "bring"} for step in stop.steps)
