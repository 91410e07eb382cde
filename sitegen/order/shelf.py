"""What stands on the shelf while several events are out: hire pieces counted over all whose days overlap.

Standard library alone, and plain values, since a build compares them before anything heavy is loaded.
"""

from bisect import bisect_left
from collections.abc import Mapping, Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Out:
    """So many of a hire good that an event has out, from a day (year-month-day) to another, both counted."""

    good: str
    pieces: int
    first: str
    last: str
    event: str


@dataclass(frozen=True, slots=True)
class Beside:
    """How many of a good other events have out at most on one of the days, and which events these are."""

    pieces: int = 0
    events: tuple[str, ...] = ()


Outs = Mapping[str, Sequence[Out]]
"""What each event has out, by its folder."""


def elsewhere(outs: Outs) -> dict[str, dict[str, Beside]]:
    """Say for each event and each good that it has out what the others have out on its fullest day."""
    goods: dict[str, dict[str, Out]] = {}
    for event, of_event in outs.items():
        for out in of_event:
            goods.setdefault(out.good, {})[event] = out
    found: dict[str, dict[str, Beside]] = {event: {} for event in outs}
    for good, users in goods.items():
        if len(users) > 1:
            days, states = _by_day(users)
            for event, out in users.items():
                if beside := _fullest(event, out, users, days, states):
                    found[event][good] = beside
    return found


def _by_day(users: Mapping[str, Out]) -> tuple[list[str], list[dict[str, int]]]:
    """Who has how many out on each day on which a count begins: it grows on no other."""
    days = sorted({out.first for out in users.values()})
    waiting = sorted(users.items(), key=lambda pair: pair[1].first, reverse=True)
    states, here = [], dict[str, int]()
    for day in days:
        here = {event: n for event, n in here.items() if users[event].last >= day}
        while waiting and waiting[-1][1].first == day:
            event, out = waiting.pop()
            here[event] = out.pieces
        states.append(here.copy())
    return days, states


def _fullest(
    event: str, out: Out, users: Mapping[str, Out], days: Sequence[str], states: Sequence[dict[str, int]]
) -> Beside | None:
    most = Beside()
    for i in range(bisect_left(days, out.first), len(days)):
        if days[i] > out.last:
            break
        others = {name: n for name, n in states[i].items() if name != event}
        if sum(others.values()) > most.pieces:
            most = Beside(sum(others.values()), tuple(users[name].event for name in sorted(others)))
    return most if most.pieces else None


def stamp(beside: Mapping[str, Beside]) -> str:
    """Write what others have out as one text, to be compared."""
    return "\n".join(f"{good} {one.pieces} {' | '.join(one.events)}" for good, one in sorted(beside.items()))
