"""The run sheet: the places of the day in the order in which the crew comes to them, and what happens there.

All moments are the place's own clock.
"""

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil

from sitegen.model.event import Place
from sitegen.model.hours import Hours, day_of, hours_at, place_of, second_of
from sitegen.order.crew import Stay, Visit, elapsed, timetable
from sitegen.order.moves import Move, moves
from sitegen.order.order import Order
from sitegen.order.run_steps import MINUTE, Moment, Step, jobs_at, steps_at
from sitegen.order.strike import Strike, strikes
from sitegen.order.trips import apart, crew_of, pieces_of
from sitegen.values.when import for_minutes

_UNKNOWN = Stay(None, (), None)


@dataclass(frozen=True, slots=True)
class Stop:
    """A place and what is done there, by time; None is for pieces that name no place.

    `arrives` and `done` are the crew's, None where nothing is set up or no hour is known. `late` counts the
    minutes by which it misses the hour it is due; `short` those that would be missing if it went there first.
    """

    place: Place | None
    day: dt.date
    hours: Hours
    steps: tuple[Step, ...]
    arrives: Moment = None
    done: Moment = None
    late: int = 0
    short: int = 0
    strike: Strike | None = None

    @property
    def id(self) -> str:
        return self.place.id if self.place else ""


def run(order: Order) -> tuple[Stop, ...]:
    """List where anything of *order* stands: by day, as the crew goes round; then what it does not visit."""
    struck = {one.place.id if one.place else "": one for one in strikes(order)}
    moved, stops = moves(order), list[Stop]()
    for day, places in _days(order).items():
        visited = [place for place in places if _is_first(order, place)]
        ways, stays = _round(order, visited)
        round_ = [(visited[i], stays[i]) for i in ways]
        round_ += [(place, _UNKNOWN) for place in places if place not in visited]
        stops += [
            _stop(order, day, place, stay, struck.get(place.id if place else ""), moved)
            for place, stay in round_
        ]
    return tuple(stops)


def _days(order: Order) -> dict[dt.date, list[Place | None]]:
    """Give the places at which anything of the event stands, day by day; None for pieces that name none."""
    event = order.priced.folder.event
    used: set[str] = set()
    for _, piece in pieces_of(order):
        first, second = place_of(piece, event), second_of(piece, event)
        used.update({first.id if first else "", second.id if second else first.id if first else ""})
    listed: list[Place | None] = [place for place in event.places if place.id in used]
    listed += [None] if "" in used else []
    days: dict[dt.date, list[Place | None]] = {}
    for place in listed:
        days.setdefault(day_of(place, event), []).append(place)
    return {day: days[day] for day in sorted(days)}


def _is_first(order: Order, place: Place | None) -> bool:
    event = order.priced.folder.event
    return any(place_of(piece, event) == place for _, piece in pieces_of(order))


def _round(order: Order, places: Sequence[Place | None]) -> tuple[tuple[int, ...], tuple[Stay, ...]]:
    event = order.priced.folder.event
    visits = [_visit(order, place) for place in places]
    between = [[ceil(apart(event, a, b)) if a and b else 0 for b in places] for a in places]
    return timetable(visits, between, crew_of(order).hands)


def _visit(order: Order, place: Place | None) -> Visit:
    event = order.priced.folder.event
    hours = hours_at(place, event) if place else Hours()
    midnight = dt.datetime.combine(day_of(place, event), dt.time.min)

    def minute(moment: Moment) -> int | None:
        return None if moment is None else (moment - midnight) // MINUTE

    jobs = tuple(job for _, _, job in jobs_at(order, place))
    return Visit(jobs, minute(hours.access), minute(hours.due))


def _stop(
    order: Order,
    day: dt.date,
    place: Place | None,
    stay: Stay,
    strike: Strike | None,
    moved: tuple[Move, ...],
) -> Stop:
    hours = hours_at(place, order.priced.folder.event) if place else Hours()
    midnight = dt.datetime.combine(day, dt.time.min)

    def moment(minute: int | None) -> Moment:
        return None if minute is None else midnight + for_minutes(minute)

    jobs = [job for _, _, job in jobs_at(order, place)]
    starts = [moment(start) for start in stay.starts] or [None] * len(jobs)
    short = 0
    if hours.access and hours.due:
        short = max(0, elapsed(jobs, crew_of(order).hands) - (hours.due - hours.access) // MINUTE)
    return Stop(
        place=place,
        day=day,
        hours=hours,
        steps=steps_at(order, place, hours, (moment(stay.arrives), starts), strike, moved),
        arrives=moment(stay.arrives),
        done=moment(stay.done),
        late=stay.late,
        short=short,
        strike=strike,
    )
