"""The hours of an event's places: that they follow each other, and that nothing moves before it may."""

import datetime as dt
from collections.abc import Iterator
from itertools import pairwise

from sitegen.check.partial import NO_DAY
from sitegen.model.content import PieceFile
from sitegen.model.event import Event
from sitegen.model.hours import hours_at, moves_at, place_of
from sitegen.values.node import ABSENT, Map, place_at
from sitegen.values.problem import Problem

_STEPS = ("access", "ready", "starts", "ends", "clear")
_SAID = {
    "access": "lets you in",
    "ready": "is to be ready",
    "starts": "starts",
    "ends": "ends",
    "clear": "is to be clear",
}
_LONGEST_STRIKE = dt.timedelta(hours=18)  # as much as any two hours of a place lie apart


def of_event(event: Event, node: Map) -> Iterator[Problem]:
    """Warn of hours of a place that cannot follow each other, not even past midnight."""
    for i, place in enumerate(event.places):
        hours = hours_at(place, event)
        given = [name for name in _STEPS if getattr(hours, name)]
        for before, after in pairwise(given):
            first, then = getattr(hours, before), getattr(hours, after)
            if then < first or (before == "ends" and then - first > _LONGEST_STRIKE):
                said = f"it {_SAID[after]} at {then:%H:%M}, before it {_SAID[before]} at {first:%H:%M}"
                what = f"the hours of {place.name} cross: {said}"
                why = "The run sheet sends the crew by these hours."
                fix = f"mend {before} or {after}; times after midnight count as the next day's"
                related = ((before, place_at(node, ("places", i, before))),)
                where = place_at(node, ("places", i, after))
                yield Problem("hours-order", where, what, why, fix, "warning", related)


def of_piece(piece: PieceFile, event: Event, node: Map) -> Iterator[Problem]:
    """Warn of a second place that begins while the piece is still in use at its first."""
    then, first = piece.piece.second_place, place_of(piece.piece, event)
    if then is None or then.from_ is None or first is None or first.id == ABSENT or event.date == NO_DAY:
        return
    hours, at = hours_at(first, event), moves_at(piece.piece, event)
    busy = hours.used_until
    if at is None or busy is None or at >= busy:
        return
    word = "ends" if hours.ends else "starts"
    what = f"this moves on at {at:%H:%M}, and {first.name} {word} at {busy:%H:%M}"
    why = "It would be carried away from its first use."
    fix = f"write from: {busy:%H:%M} or later, or mend the hours of {first.name}"
    index = event.places.index(first)
    related = ((f"{first.name} {word}", place_at(node, ("places", index, word))),)
    where = place_at(piece.node, ("second_place", "from"))
    yield Problem("second-early", where, what, why, fix, "warning", related)
