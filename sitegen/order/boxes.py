"""The boxes that pieces travel in, numbered through the event, with the copies in each."""

from collections.abc import Iterator
from dataclasses import dataclass

from sitegen.order.order import Order


@dataclass(frozen=True, slots=True)
class Box:
    """One box, numbered from 1 through the event: copies *first* to *last* of a piece.

    One copy that takes several boxes is in `parts` of them, and this is part number `part`.
    `place` is the id of the place where the box comes off first, None where the piece has none.
    """

    number: int
    piece: str
    first: int
    last: int
    part: int = 1
    parts: int = 1
    place: str | None = None

    @property
    def copies(self) -> int:
        return self.last - self.first + 1


def boxes_of(order: Order) -> tuple[Box, ...]:
    """Number the boxes of all that is made, piece after piece as the files are numbered.

    A piece says how many it takes; one that does not say has none. Its copies
    are shared out as evenly as they go, the fuller boxes first.
    """
    files = {one.id: one.file.piece for one in order.priced.pieces}
    boxes: list[Box] = []
    for portion in order.portions:
        piece = files[portion.id]
        for first, last, part, parts in _shared(portion.copies, piece.boxes or 0):
            boxes.append(Box(len(boxes) + 1, portion.id, first, last, part, parts, piece.place))
    return tuple(boxes)


def _shared(copies: int, boxes: int) -> Iterator[tuple[int, int, int, int]]:
    """Give first copy, last copy, part and parts for each of *boxes*."""
    if not copies or not boxes:
        return
    if boxes <= copies:
        done = 0
        for here in _evenly(copies, boxes):
            yield done + 1, done + here, 1, 1
            done += here
    else:
        for i, parts in enumerate(_evenly(boxes, copies), 1):
            yield from ((i, i, part, parts) for part in range(1, parts + 1))


def _evenly(total: int, among: int) -> list[int]:
    each, more = divmod(total, among)
    return [each + (i < more) for i in range(among)]
