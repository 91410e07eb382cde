"""The lines of a run sheet: what is set up, handed over, moved and taken down at one place."""

import datetime as dt
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from typing import Literal

from sitegen.model.event import Place
from sitegen.model.hours import Hours, place_of
from sitegen.model.piece import Piece
from sitegen.order.crew import Job
from sitegen.order.moves import Move
from sitegen.order.need import Portion
from sitegen.order.order import Order
from sitegen.order.strike import Strike, hire_of
from sitegen.order.trips import crew_of, pieces_of
from sitegen.order.work import minutes_of
from sitegen.values.when import for_minutes

Kind = Literal["set", "bring", "theirs", "ready", "use", "leave", "arrive", "strike", "clear"]
Moment = dt.datetime | None
MINUTE = dt.timedelta(minutes=1)


@dataclass(frozen=True, slots=True)
class Item:
    """So many copies of a piece, and the hire pieces that go with all of them, by good."""

    piece: str
    copies: int
    hire: dict[str, int] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Step:
    """One line: from when, for how many minutes with how many hands. `other` is the other place of a move."""

    kind: Kind
    at: Moment
    items: tuple[Item, ...] = ()
    minutes: Fraction = Fraction(0)
    hands: int = 0
    other: Place | None = None

    @property
    def until(self) -> Moment:
        return self.at and self.at + for_minutes(self.minutes)


def jobs_at(order: Order, place: Place | None) -> tuple[tuple[Portion, Piece, Job], ...]:
    """Give the set-up at a place, piece by piece: setting each, and building what is built on site."""
    event, found = order.priced.folder.event, []
    for portion, piece in pieces_of(order):
        if place_of(piece, event) == place:
            minutes = piece.site.minutes * (portion.copies - piece.extra)
            if piece.bench.on_site and not portion.made.by_couple:
                minutes += minutes_of(portion, piece) * portion.copies / piece.site.hands
            if minutes:
                found.append((portion, piece, Job(minutes, piece.site.hands)))
    return tuple(found)


def steps_at(
    order: Order,
    place: Place | None,
    hours: Hours,
    stay: tuple[Moment, Sequence[Moment]],
    strike: Strike | None,
    moved: Sequence[Move],
) -> tuple[Step, ...]:
    """List the steps at a place by time; what has none stays behind what it is listed after.

    *stay* is when the crew arrives, and when each of the place's jobs starts.
    """
    arrives, starts = stay
    moves = tuple(_moves(place, moved))
    steps = [
        *_brought(order, place, arrives),
        *_set_up(order, place, starts),
        *([Step("ready", hours.ready)] if hours.ready else []),
        *([Step("use", hours.starts)] if hours.starts else []),
        *moves,
        *(_strike(order, strike, hours, moved, moves) if strike else ()),
        *([Step("clear", hours.clear)] if hours.clear else []),
    ]
    return _by_time(steps)


def _by_time(steps: list[Step]) -> tuple[Step, ...]:
    known = [step.at for step in steps if step.at]
    if not known:
        return tuple(steps)
    last, keyed = min(known), []
    for step in steps:
        last = step.at or last
        keyed.append((last, step))
    return tuple(step for _, step in sorted(keyed, key=lambda pair: pair[0]))


def _set_up(order: Order, place: Place | None, starts: Sequence[Moment]) -> Iterator[Step]:
    for (portion, piece, job), at in zip(jobs_at(order, place), starts, strict=True):
        yield Step("set", at, (_here(order, portion, piece),), job.minutes, piece.site.hands)


def _here(order: Order, portion: Portion, piece: Piece) -> Item:
    """What goes with a piece to its first place: not the vessel that waits for it at the second."""
    then = piece.second_place
    waits = then.vessel if then and then.vessel not in piece.goods else None
    hire = {good: n for good, n in hire_of(portion, order).items() if good != waits}
    return Item(portion.id, portion.copies, hire)


def _brought(order: Order, place: Place | None, at: Moment) -> Iterator[Step]:
    """What needs no work there: handed over by the studio, or brought by the couple who made it."""
    event = order.priced.folder.event
    busy = {portion.id for portion, _, _ in jobs_at(order, place)}
    ours: list[Item] = []
    theirs: list[Item] = []
    for portion, piece in pieces_of(order):
        if place_of(piece, event) == place and portion.id not in busy:
            (theirs if portion.made.by_couple else ours).append(_here(order, portion, piece))
    if ours:
        yield Step("bring", at, tuple(ours))
    if theirs:
        yield Step("theirs", at, tuple(theirs))


def _moves(place: Place | None, moved: Sequence[Move]) -> Iterator[Step]:
    """What leaves here, and what comes here from its first place, once it has gone and come."""
    for move in moved:
        item = Item(move.piece, move.copies, {move.vessel: move.vessels} if move.vessel else {})
        if place == move.first or (move.first is None and place == move.second):
            yield Step("leave", move.starts, (item,), move.minutes, move.hands, move.second)
        elif place == move.second:
            yield Step("arrive", move.stands, (item,), other=move.first)


def _strike(
    order: Order, strike: Strike, hours: Hours, moved: Sequence[Move], moves: Sequence[Step]
) -> Iterator[Step]:
    """Taking down begins once the use is over and what moves on has left; else to be clear in time.

    It takes all hands, so it waits while any of them carry something anywhere.
    """
    left = [step.until for step in moves if step.kind == "leave" and step.until]
    over = max([*([hours.ends] if hours.ends else []), *left], default=None)
    if over is None and hours.clear is not None:
        over = hours.clear - for_minutes(strike.minutes)
    if over is not None:
        over = _hands_free(over, strike.minutes, moved)
    yield Step("strike", over, (Item("", 0, strike.hire),), strike.minutes, crew_of(order).hands)


def _hands_free(start: dt.datetime, minutes: Fraction, moved: Sequence[Move]) -> dt.datetime:
    carried = sorted((one.starts, one.starts + for_minutes(one.minutes)) for one in moved if one.starts)
    for first, last in carried:
        if first < start + for_minutes(minutes) and last > start:
            start = last
    return start
