"""Hire pieces of one event: from when until when they are out, and whether there are enough of them."""

import datetime as dt
from collections.abc import Iterator, Mapping

from sitegen.model.hours import bench_day, day_of, hours_at, place_of, second_of
from sitegen.model.piece import Piece
from sitegen.order.order import Order
from sitegen.order.shelf import Beside, Out
from sitegen.order.strike import hire_of
from sitegen.order.trips import pieces_of
from sitegen.values.node import Path, place_at
from sitegen.values.problem import Problem
from sitegen.values.source import Place as Where


def outs_of(order: Order) -> tuple[Out, ...]:
    """Say what an event has out, of goods whose number is known; nothing where it is closed."""
    event, goods = order.priced.folder.event, order.priced.shared.goods
    if event.closed is not None:
        return ()
    spans = spans_of(order)
    return tuple(
        Out(good, n, spans[good][0].isoformat(), spans[good][1].isoformat(), event.event)
        for good, n in order.need.hire.items()
        if goods[good].owned is not None
    )


def spans_of(order: Order) -> dict[str, tuple[dt.date, dt.date]]:
    """Give the days from which and until which each hire good is out.

    It leaves the shelf for the first bench on which it is built into, or for the van where it only waits at a
    second place. It is back on the day of `hire_back`, else when the place at which it ends is clear.
    """
    event, spans = order.priced.folder.event, dict[str, tuple[dt.date, dt.date]]()
    for portion, piece in pieces_of(order):
        for good in hire_of(portion, order):
            first, last = _leaves(order, piece, good), _ends(order, piece)
            last = event.hire_back.date() if event.hire_back else last
            known = spans.get(good, (first, last))
            spans[good] = min(first, known[0]), max(first, last, known[1])
    return {good: spans[good] for good in order.need.hire}


def _leaves(order: Order, piece: Piece, good: str) -> dt.date:
    event, then = order.priced.folder.event, piece.second_place
    if then is not None and then.vessel == good and good not in piece.goods:
        return day_of(second_of(piece, event), event)
    return bench_day(piece, event)


def _ends(order: Order, piece: Piece) -> dt.date:
    event = order.priced.folder.event
    place = second_of(piece, event) or place_of(piece, event)
    if place is None:
        return event.date
    hours = hours_at(place, event)
    over = hours.clear or hours.ends
    return over.date() if over else day_of(place, event)


def short_of(order: Order, beside: Mapping[str, Beside]) -> tuple[str, ...]:
    """Name the hire goods of which more are out at once than there are."""
    goods = order.priced.shared.goods
    return tuple(
        out.good
        for out in outs_of(order)
        if out.pieces + beside.get(out.good, Beside()).pieces > (goods[out.good].owned or 0)
    )


def hire_notes(order: Order, beside: Mapping[str, Beside], today: dt.date) -> tuple[Problem, ...]:
    """Warn of hire pieces that are short while other events have theirs out; nothing where all is over."""
    if order.priced.folder.event.date < today:
        return ()
    return tuple(_short(order, good, beside.get(good, Beside())) for good in short_of(order, beside))


def _short(order: Order, id_: str, beside: Beside) -> Problem:
    good, need = order.priced.shared.goods[id_], order.need.hire[id_]
    first, last = spans_of(order)[id_]
    others = f" and {beside.pieces} at the same time at {', '.join(beside.events)}" if beside.pieces else ""
    return Problem(
        code="hire-short",
        place=next(_lines(order, id_)),
        what=f"{need} of {id_} are out from {first} to {last}{others}, and {good.owned} are owned",
        why="Somebody would stand there without one.",
        fix="take another vessel, hire more in and raise owned, or fetch them back earlier",
        severity="warning",
        related=(("owned", place_at(order.priced.shared.nodes.goods, (id_, "owned"))),),
        event=order.priced.folder.id,
    )


def _lines(order: Order, good: str) -> Iterator[Where]:
    """The places of the lines that ask for it, the first piece's first."""
    nodes = {piece.id: piece.file.node for piece in order.priced.pieces}
    for portion, piece in pieces_of(order):
        if good in portion.made.goods:
            waits = piece.second_place is not None and good not in piece.goods
            path: Path = ("second_place", "vessel") if waits else ("goods", good)
            yield place_at(nodes[portion.id], path, key=not waits)
