"""Pieces on their way to a second place, one after the other as hands are free."""

import datetime as dt
from dataclasses import dataclass, replace
from fractions import Fraction
from math import ceil

from sitegen.model.event import Place
from sitegen.model.hours import moves_at, place_of, second_of
from sitegen.model.piece import Piece
from sitegen.order.order import Order
from sitegen.order.strike import hire_of
from sitegen.order.trips import apart, crew_of, pieces_of
from sitegen.values.when import for_minutes


@dataclass(frozen=True, slots=True)
class Move:
    """All copies of a piece that move together: the minutes it takes with so many hands, and on the road.

    It is asked for *at*, and starts then or as soon as hands are free; both are None where no hour is known.
    `vessel` waits at the second place, so many of it. What somebody carries has no first place: it comes
    along with them, and hands are needed where it goes.
    """

    piece: str
    copies: int
    first: Place | None
    second: Place
    at: dt.datetime | None
    starts: dt.datetime | None
    minutes: Fraction
    hands: int
    road: Fraction
    vessel: str | None = None
    vessels: int = 0

    @property
    def stands(self) -> dt.datetime | None:
        """When the last of it stands at its second place."""
        return self.starts and self.starts + for_minutes(ceil(self.minutes) + ceil(self.road))


def moves(order: Order) -> tuple[Move, ...]:
    """List what moves, in the order of the pieces. Hands asked for at once go by time, then by piece."""
    asked = _asked(order)
    free: list[dt.datetime | None] = [None] * crew_of(order).hands
    planned = list(asked)
    timed = sorted((move.at, i) for i, move in enumerate(asked) if move.at)
    for at, i in timed:
        move = asked[i]
        takes = min(move.hands, len(free))
        free.sort(key=lambda moment: (moment is not None, moment))
        start = max(at, free[takes - 1] or at)
        planned[i] = replace(move, starts=start)
        if move.minutes:
            free[:takes] = [start + for_minutes(move.minutes)] * takes
    return tuple(planned)


def carried(piece: Piece) -> bool:
    """Tell whether somebody has it in hand or wears it after it was handed over."""
    set_up = piece.site.minutes or piece.bench.on_site
    return not set_up and (bool(piece.wearers) or piece.build.method == "hand-tied")


def _asked(order: Order) -> list[Move]:
    event, found = order.priced.folder.event, []
    for portion, piece in pieces_of(order):
        then, first, second = piece.second_place, place_of(piece, event), second_of(piece, event)
        goes = portion.copies - piece.extra  # a spare one nobody carries, and nobody has a place for
        if then is None or second is None or goes <= 0:
            continue
        first = None if carried(piece) else first
        at = moves_at(piece, event)
        waits = then.vessel if then.vessel and then.vessel not in piece.goods else None
        vessels = goes if waits and waits in hire_of(portion, order) else 0
        found.append(
            Move(
                piece=portion.id,
                copies=goes,
                first=first,
                second=second,
                at=at,
                starts=at,
                minutes=then.minutes * goes,
                hands=then.hands,
                road=apart(event, first, second) if first else Fraction(0),
                vessel=waits if vessels else None,
                vessels=vessels,
            )
        )
    return found
