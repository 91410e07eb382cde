"""What goes into the van for each stop, and what comes home from it."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from fractions import Fraction

from sitegen.model.piece import Piece
from sitegen.order.boxes import Box, boxes_of
from sitegen.order.need import Portion
from sitegen.order.order import Order
from sitegen.order.run import Stop
from sitegen.order.run_steps import Item
from sitegen.order.trips import pieces_of
from sitegen.values.length import METRES, Length

Amount = Fraction | Length


@dataclass(frozen=True, slots=True)
class Packed:
    """A box, and whether it comes home: where what is in it stands in hire pieces, it does."""

    box: Box
    home: bool


@dataclass(frozen=True, slots=True)
class Load:
    """What comes off at one stop: boxes, pieces that have none, hire pieces, and goods that are used there.

    `home` are the hire pieces that are taken down here. All goods are counted by their ids.
    """

    stop: Stop
    boxes: tuple[Packed, ...]
    loose: tuple[Item, ...]
    hire: Mapping[str, int]
    goods: Mapping[str, Amount]
    home: Mapping[str, int]

    @property
    def empty(self) -> bool:
        return not (self.boxes or self.loose or self.hire or self.goods or self.home)


def packing(order: Order, stops: Iterable[Stop]) -> tuple[Load, ...]:
    """Give the load of each of *stops*, in their order; what was loaded last comes off first.

    What the couple fetch and make is not in the van.
    """
    boxes = boxes_of(order)
    pieces = {portion.id: (portion, piece) for portion, piece in pieces_of(order)}
    loads = (_load(stop, boxes, pieces, order) for stop in stops)
    return tuple(load for load in loads if not load.empty)


def _load(
    stop: Stop, boxes: Iterable[Box], pieces: Mapping[str, tuple[Portion, Piece]], order: Order
) -> Load:
    steps = [step for step in stop.steps if step.kind in {"set", "bring"}]
    here = {item.piece: item for step in steps for item in step.items}
    packed = tuple(Packed(box, bool(here[box.piece].hire)) for box in boxes if box.piece in here)
    boxed = {one.box.piece for one in packed}
    hire: dict[str, int] = {}
    waiting = [step for step in stop.steps if step.kind == "arrive"]
    waiting += [step for step in stop.steps if step.kind == "leave" and step.other == stop.place]
    for item in (*here.values(), *(item for step in waiting for item in step.items)):
        for good, n in item.hire.items():
            hire[good] = hire.get(good, 0) + n
    return Load(
        stop=stop,
        boxes=packed,
        loose=tuple(item for item in here.values() if item.piece not in boxed),
        hire=hire,
        goods=_goods((pieces[id_] for id_ in here), order),
        home=stop.strike.hire if stop.strike else {},
    )


def _goods(pieces: Iterable[tuple[Portion, Piece]], order: Order) -> dict[str, Amount]:
    """Bought goods that are not built in at the bench: of what is built on site, and of what has no stems."""
    found: dict[str, Amount] = {}
    for portion, piece in pieces:
        if portion.made.recipe and not piece.bench.on_site:
            continue
        for good, amount in portion.made.goods.items():
            if order.priced.shared.goods[good].hire is None:
                found[good] = _together(found.get(good), _times(amount, portion.copies))
    return found


def _times(amount: Amount, copies: int) -> Amount:
    return amount.times(copies) if isinstance(amount, Length) else amount * copies


def _together(one: Amount | None, other: Amount) -> Amount:
    if isinstance(one, Length) and isinstance(other, Length):
        return Length((one.metres + other.metres) / METRES[one.unit], one.unit)
    return one + other if isinstance(one, Fraction) and isinstance(other, Fraction) else other
