"""One crew on its way from place to place: who starts what when, and where it comes too late.

All of the crew goes together. Minutes are counted from the midnight before the day.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import permutations
from math import ceil

_MOST_TRIED = 6  # places whose order is looked for by trying all; 720 ways


@dataclass(frozen=True, slots=True)
class Job:
    """Work at a place: minutes from start to end, and how many hands it takes at once."""

    minutes: Fraction
    hands: int


@dataclass(frozen=True, slots=True)
class Visit:
    """A place to set up: its jobs in order, from when one may go in, and until when all has to stand."""

    jobs: tuple[Job, ...]
    access: int | None = None
    due: int | None = None


@dataclass(frozen=True, slots=True)
class Stay:
    """A visit as it is planned: arrival, the start of each job, when all is done, and minutes past due.

    Without any hour to count from, nothing is known.
    """

    arrives: int | None
    starts: tuple[int | None, ...]
    done: int | None
    late: int = 0


def timetable(
    visits: Sequence[Visit], apart: Sequence[Sequence[int]], hands: int
) -> tuple[tuple[int, ...], tuple[Stay, ...]]:
    """Give the order in which to go round, and each visit's stay, in the order of *visits*.

    The place that is due first is visited first; only where that comes too late anywhere, other orders are
    looked at, and the one that is late least is taken. `apart[i][j]` are minutes from one place to another.
    """
    first = tuple(sorted(range(len(visits)), key=lambda i: (_due(visits[i]), i)))
    best = first, _go(visits, apart, hands, first)
    if _late(best[1]) and len(visits) <= _MOST_TRIED:
        others = ((way, _go(visits, apart, hands, way)) for way in permutations(first))
        best = min(others, key=lambda one: _late(one[1]))
    way, stays = best
    return way, tuple(stays[way.index(i)] for i in range(len(visits)))


def elapsed(jobs: Sequence[Job], hands: int) -> int:
    """Give the minutes from the first start to the last end with so many *hands*."""
    return _lay(jobs, hands)[1]


def _due(visit: Visit) -> int:
    found = visit.due if visit.due is not None else visit.access
    return 10**6 if found is None else found


def _late(stays: Sequence[Stay]) -> int:
    return sum(stay.late for stay in stays)


def _latest(stays: Sequence[Stay]) -> int:
    return max((stay.late for stay in stays), default=0)


def _go(
    visits: Sequence[Visit], apart: Sequence[Sequence[int]], hands: int, way: Sequence[int]
) -> list[Stay]:
    """Go round in the order *way*. Where the first place names no access, one starts as early as needed."""
    stays = _from(visits, apart, hands, way, 0)
    late = _latest(stays)
    if late and visits[way[0]].access is None:
        gained = late - _latest(
            _from(visits, apart, hands, way, late)
        )  # less than that where doors open late
        return _from(visits, apart, hands, way, gained)
    return stays


def _from(
    visits: Sequence[Visit], apart: Sequence[Sequence[int]], hands: int, way: Sequence[int], earlier: int
) -> list[Stay]:
    stays: list[Stay] = []
    clock: int | None = None
    for place, i in enumerate(way):
        visit = visits[i]
        offsets, takes = _lay(visit.jobs, hands)
        if clock is None:
            arrives = visit.access
            if arrives is None and visit.due is not None:
                arrives = visit.due - takes - earlier
        else:
            arrives = max(clock + apart[way[place - 1]][i], visit.access or 0)
        if arrives is None:
            stays.append(Stay(None, (None,) * len(offsets), None))
            continue
        clock = arrives + takes
        late = max(0, clock - visit.due) if visit.due is not None else 0
        stays.append(Stay(arrives, tuple(arrives + one for one in offsets), clock, late))
    return stays


def _lay(jobs: Sequence[Job], hands: int) -> tuple[list[int], int]:
    """Start each job, in order, as soon as enough hands are free; begun minutes count."""
    free = [0] * max(1, hands)
    starts = []
    for job in jobs:
        takes = min(job.hands, len(free))
        free.sort()
        start = free[takes - 1]
        starts.append(start)
        free[:takes] = [start + ceil(job.minutes)] * takes
    return starts, max(free)
