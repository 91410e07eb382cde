"""All work that an event asks of the studio's hands, task by task. The one source of its hours.

Minutes are those of one pair of hands: two people for ten minutes are twenty.
"""

import datetime as dt
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from sitegen.model.hours import bench_day, day_of, place_of, second_of
from sitegen.model.piece import Piece
from sitegen.order.deliveries import deliveries
from sitegen.order.need import Portion
from sitegen.order.order import Order
from sitegen.order.practice import BUILDING, PULLING
from sitegen.order.strike import strikes
from sitegen.order.trips import crew_of, pieces_of, trips
from sitegen.values.number import total

Kind = Literal["process", "pull", "build", "drive", "site"]
KINDS: tuple[Kind, ...] = ("process", "pull", "build", "drive", "site")
What = Literal["delivery", "pull", "build", "load", "drive", "site", "move", "strike"]
_KIND: dict[What, Kind] = {
    "delivery": "process",
    "pull": "pull",
    "build": "build",
    "load": "drive",
    "drive": "drive",
    "site": "site",
    "move": "site",
    "strike": "site",
}
_DAY = dt.timedelta(days=1)
_NONE = Fraction(0)


@dataclass(frozen=True, slots=True)
class Task:
    """Work of one day, in minutes of one pair of hands.

    `about` names the supplier of a delivery, the piece that is built, set or moved, or the place of a strike;
    `count` says how many bunches, pieces or hands.
    """

    day: dt.date
    what: What
    minutes: Fraction
    about: str = ""
    count: int = 0

    @property
    def kind(self) -> Kind:
        return _KIND[self.what]


def tasks(order: Order) -> tuple[Task, ...]:
    """List all work by day, on each day as it goes."""
    found = [
        *_processing(order),
        *_pulling(order),
        *_building(order),
        *_driving(order),
        *_on_site(order),
        *_striking(order),
    ]
    return tuple(sorted(found, key=lambda task: task.day))


def hours(order: Order) -> Fraction:
    """Hours of hands for the whole event, from the first bunch to the strike."""
    return total(task.minutes for task in tasks(order)) / 60


def capacity(order: Order) -> Fraction | None:
    """Minutes that the crew has on one day; None where no crew is named."""
    crew = order.priced.terms.crew
    return crew.hands * crew.hours * 60 if crew else None


def _processing(order: Order) -> Iterator[Task]:
    """Stems that come on no known day are taken to come on the day before the event."""
    each, event = order.priced.shared.studio.work.bunch, order.priced.folder.event
    for one in deliveries(order):
        day = one.arrival.day if one.arrival else event.date - _DAY
        yield Task(day, "delivery", each * one.bunches, one.supplier, one.bunches)


def last_arrivals(order: Order) -> dict[str, dt.date]:
    """Give the day on which the last of each stem comes."""
    found: dict[str, dt.date] = {}
    for row in order.rows:
        if row.thing.kind == "stem" and row.arrival is not None:
            found[row.thing.id] = max(row.arrival.day, found.get(row.thing.id, row.arrival.day))
    return found


def _pulling(order: Order) -> Iterator[Task]:
    """A piece is pulled on the day before its bench, or where a stem comes later, on the bench day itself.

    What the couple make is pulled into one bucket, and so counts once.
    """
    each, event = order.priced.shared.studio.work.pull, order.priced.folder.event
    arrivals, counts = last_arrivals(order), dict[dt.date, int]()
    minutes: dict[dt.date, Fraction] = {}
    for portion, piece in pieces_of(order):
        if portion.made.recipe:
            bench = bench_day(piece, event)
            come = max((arrivals.get(stem, bench) for stem in portion.made.recipe), default=bench)
            day = bench - _DAY if come < bench else bench
            vases = 1 if portion.made.by_couple else portion.copies
            takes = total(portion.made.recipe.values()) * portion.copies * PULLING
            counts[day] = counts.get(day, 0) + vases
            minutes[day] = minutes.get(day, _NONE) + (takes if each is None else each * vases)
    for day in sorted(counts):
        yield Task(day, "pull", minutes[day], count=counts[day])


def minutes_of(portion: Portion, piece: Piece) -> Fraction:
    """Give the minutes to build one: as the recipe says, else as practice has it for what is tied by hand."""
    tied = piece.build.method == "hand-tied" and not portion.made.by_couple
    return portion.made.minutes or Fraction(BUILDING if tied else 0)


def _building(order: Order) -> Iterator[Task]:
    event = order.priced.folder.event
    for portion, piece in pieces_of(order):
        if not portion.made.by_couple and not piece.bench.on_site:
            minutes = minutes_of(portion, piece) * portion.copies
            yield Task(bench_day(piece, event), "build", minutes, portion.id, portion.copies)


def _driving(order: Order) -> Iterator[Task]:
    work, hands = order.priced.shared.studio.work, crew_of(order).hands
    for trip in trips(order):
        yield Task(trip.day, "load", work.load * hands, count=hands)
        yield Task(trip.day, "drive", trip.driven * hands, count=hands)


def _on_site(order: Order) -> Iterator[Task]:
    """Building on site counts extra copies too; setting and moving do not, which nobody gets."""
    event = order.priced.folder.event
    for portion, piece in pieces_of(order):
        set_up = portion.copies - piece.extra
        minutes = piece.site.minutes * piece.site.hands * set_up
        if piece.bench.on_site and not portion.made.by_couple:
            minutes += minutes_of(portion, piece) * portion.copies
        if minutes:
            yield Task(day_of(place_of(piece, event), event), "site", minutes, portion.id, set_up)
        then = piece.second_place
        if then is not None and then.minutes:
            day = day_of(second_of(piece, event), event)
            yield Task(day, "move", then.minutes * then.hands * set_up, portion.id, set_up)


def _striking(order: Order) -> Iterator[Task]:
    hands = crew_of(order).hands
    for one in strikes(order):
        yield Task(one.day, "strike", one.minutes * hands, one.place.id if one.place else "", hands)
