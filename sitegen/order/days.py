"""The days of preparation: what comes, what is done, and how full each day is."""

import datetime as dt
from dataclasses import dataclass
from fractions import Fraction

from sitegen.order.deliveries import Delivery, deliveries
from sitegen.order.order import Order
from sitegen.order.work import KINDS, Kind, Task, capacity, tasks
from sitegen.values.number import total


@dataclass(frozen=True, slots=True)
class Day:
    """One day's work and deliveries. Minutes are those of one pair of hands."""

    day: dt.date
    tasks: tuple[Task, ...]
    deliveries: tuple[Delivery, ...] = ()

    def minutes(self, kind: Kind) -> Fraction:
        return total(task.minutes for task in self.tasks if task.kind == kind)

    @property
    def total(self) -> Fraction:
        return total(task.minutes for task in self.tasks)


@dataclass(frozen=True, slots=True)
class Days:
    """All days on which something comes or is done, and the minutes that the crew has on each of them."""

    days: tuple[Day, ...]
    capacity: Fraction | None

    @property
    def fullest(self) -> Day | None:
        """The day with the most work; of several alike the first."""
        return max(self.days, key=lambda day: day.total, default=None)

    def over(self, day: Day) -> Fraction:
        """Minutes above what the crew has on that day; 0 where it fits, or no crew is known."""
        return max(Fraction(0), day.total - self.capacity) if self.capacity else Fraction(0)

    def room_before(self, day: Day) -> tuple[Day, Fraction] | None:
        """Give the last earlier day that has room for all that is over on *day*, else the one with the most.

        With it come its free minutes; None where all are full.
        """
        free = [(self.capacity - one.total, one) for one in self.days if self.capacity and one.day < day.day]
        enough = [pair for pair in free if pair[0] >= self.over(day)]
        room, one = enough[-1] if enough else max(free, key=lambda pair: pair[0], default=(Fraction(0), day))
        return (one, room) if room > 0 else None


def days(order: Order) -> Days:
    """Lay the work of *order* out by days."""
    work: dict[dt.date, list[Task]] = {}
    for task in tasks(order):
        work.setdefault(task.day, []).append(task)
    come: dict[dt.date, list[Delivery]] = {}
    for one in deliveries(order):
        if one.arrival is not None:
            come.setdefault(one.arrival.day, []).append(one)
    every = sorted({*work, *come})
    return Days(
        tuple(Day(day, tuple(work.get(day, ())), tuple(come.get(day, ()))) for day in every),
        capacity(order),
    )


def kinds_of(day: Day) -> dict[Kind, Fraction]:
    """Give the minutes of each kind of work, in the order in which it is done."""
    return {kind: day.minutes(kind) for kind in KINDS}
