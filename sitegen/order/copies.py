"""The copies that are made of a piece: their numbers, who carries each, and what goes into it.

Pull list, build cards and labels number and name copies as they stand here.
"""

from dataclasses import dataclass

from sitegen.model.piece import Wearer
from sitegen.order.order import Order
from sitegen.values.bag import Bag


@dataclass(frozen=True, slots=True)
class Copy:
    """One of a piece's copies, numbered from 1; the unpaid ones come last and are spare.

    `stems` are what goes into this one: as the recipe says, so there may be parts of a stem; in a varied set
    as the deal says.
    """

    number: int
    wearer: Wearer | None
    spare: bool
    stems: Bag


def copies_of(order: Order, piece: str) -> tuple[Copy, ...]:
    """Give the copies of the piece with that id, in the order of their numbers; none of one that is not made.

    Wearers take the copies in the order in which they are named; one named beyond
    the quantity takes a spare one.
    """
    portion = next((one for one in order.portions if one.id == piece), None)
    file = next((one.file.piece for one in order.priced.pieces if one.id == piece), None)
    if portion is None or file is None:
        return ()
    charged, dealt = portion.copies - file.extra, order.sets.get(piece)
    named: list[Wearer | None] = [*file.wearers[: portion.copies]]
    named += [None] * (portion.copies - len(named))
    return tuple(
        Copy(i + 1, wearer, wearer is None and i >= charged, dealt.stems(i) if dealt else portion.made.recipe)
        for i, wearer in enumerate(named)
    )


def worn(order: Order) -> tuple[str, ...]:
    """Name the pieces that are made and that somebody named carries, in the order of the proposal."""
    wearers = {one.id: one.file.piece.wearers for one in order.priced.pieces}
    return tuple(one.id for one in order.portions if one.copies and wearers.get(one.id))
