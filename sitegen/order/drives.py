"""How the crew comes to each place of its round, and what of it nobody has written."""

import datetime as dt
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction

from sitegen.model.event import Event, Place
from sitegen.order.order import Order
from sitegen.order.run import Stop
from sitegen.order.trips import apart, trips
from sitegen.values.when import for_minutes


@dataclass(frozen=True, slots=True)
class Drive:
    """From a place, or the studio (None), to a stop: `minutes` are None where nobody wrote how long it takes.

    `leave` is the last moment to be there in time, None where the hour or the minutes are not known.
    """

    origin: Place | None
    minutes: Fraction | None
    leave: dt.datetime | None


def drives(order: Order, stops: Sequence[Stop]) -> Mapping[str, Drive]:
    """Give the drive to each stop that needs one, by its id. From room to room of one house there is none."""
    found: dict[str, Drive] = {}
    ways = {trip.day: trip.way for trip in trips(order)}
    before: dict[dt.date, Place] = {}
    for stop in stops:
        if stop.place is None or not _visited(stop):
            continue
        origin = before.get(stop.day)
        minutes = _from(order, origin, stop.place) if origin else _out(order, stop.place, ways.get(stop.day))
        if minutes != 0:
            leave = stop.arrives - for_minutes(minutes) if minutes and stop.arrives else None
            found[stop.id] = Drive(origin, minutes, leave)
        before[stop.day] = stop.place
    return found


def _visited(stop: Stop) -> bool:
    """Whether the crew comes here on its round: what only moves here comes with the move."""
    return any(step.kind in {"set", "bring"} for step in stop.steps)


def _out(order: Order, place: Place, way: Fraction | None) -> Fraction | None:
    """From the studio: what the event's first place or the studio says."""
    written = place.travel is not None or "travel" in order.priced.shared.studio.work.model_fields_set
    return way if written else None


def _from(order: Order, origin: Place, place: Place) -> Fraction | None:
    event = order.priced.folder.event
    minutes = apart(event, origin, place)
    silent = not minutes and not _written(event, origin, place)
    return None if silent and _elsewhere(origin, place) else minutes


def _written(event: Event, origin: Place, place: Place) -> bool:
    i, j = sorted((event.places.index(origin), event.places.index(place)))
    return all(one.travel is not None for one in event.places[i + 1 : j + 1])


def _elsewhere(origin: Place, place: Place) -> bool:
    """Only two addresses tell that it is not the next room."""
    return bool(origin.address and place.address and origin.address != place.address)
