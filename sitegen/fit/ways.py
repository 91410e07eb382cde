"""The ways in which each piece of a proposal can stand, and what is lost of what matters in each."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import product

from sitegen.choices.picks import Pick, each_of
from sitegen.choices.table import TablePiece

MOST_COUNTS = 1_000
"""Of a piece that may come in more counts than these, evenly spaced ones are tried."""


@dataclass(frozen=True, slots=True)
class Matter:
    """How much of a piece matters: its place in the proposal, its count, each choice's usual answer."""

    piece: int
    answers: tuple[int, ...]

    @property
    def whole(self) -> int:
        return 2 * self.piece + sum(self.answers)


@dataclass(frozen=True, slots=True)
class Way:
    """A piece at *pick*: its line in smallest units, and what that loses against what we suggest."""

    pick: Pick
    line: int
    lost: int
    changes: int


def ways_of(piece: TablePiece, matter: Matter) -> tuple[Way, ...]:
    """Give the ways of a piece, one of those that cost and lose the same; the usual one stands first."""
    found: dict[tuple[int, int, int], Way] = {}
    for way in _ways(piece, matter):
        found.setdefault((way.line, way.lost, way.changes), way)
    return tuple(found.values())


def all_counts(piece: TablePiece) -> bool:
    """Tell whether every count of a piece is tried."""
    return piece.most - piece.least <= MOST_COUNTS


def _ways(piece: TablePiece, matter: Matter) -> Iterator[Way]:
    for answers in _answers(piece):
        each = each_of(piece, answers)
        changed = [c for c, answer in enumerate(answers) if answer != piece.usual[c]]
        lost = sum(matter.answers[c] for c in changed)
        for count in _counts(piece):
            recount = count != piece.quantity
            line, moved = each * count, len(changed) + recount
            yield Way(Pick(answers, count), line, lost + matter.piece * recount, moved)
    if piece.optional:
        yield Way(Pick(piece.usual, piece.quantity, out=True), 0, matter.whole, 1)
    elif piece.least == 0 < piece.quantity:  # none of it: as good as left out
        yield Way(Pick(piece.usual, 0), 0, matter.whole, 1)


def _answers(piece: TablePiece) -> Iterable[tuple[int, ...]]:
    """All answers, the usual ones first."""
    others = (answers for answers in product(*map(range, piece.answers)) if answers != piece.usual)
    return (piece.usual, *others)


def _counts(piece: TablePiece) -> Iterator[int]:
    """The usual count, then fewer and more, the nearest first; a count of none is no count."""
    step = max(1, -(-(piece.most - piece.least) // MOST_COUNTS))
    fewest = max(piece.least, 1)
    fewer = [*range(piece.quantity - 1, fewest, -step), fewest] if piece.quantity > fewest else []
    more = [*range(piece.quantity + 1, piece.most, step), piece.most] if piece.quantity < piece.most else []
    return iter(dict.fromkeys([piece.quantity, *fewer, *more]))


def cheapest(ways: tuple[Way, ...], apart: int | None) -> tuple[Way, ...]:
    """Leave out ways of which another loses no more and costs less, by *apart* at least."""
    return _undominated(ways, apart, strictly=False)


def sensible(ways: tuple[Way, ...], apart: int | None) -> tuple[Way, ...]:
    """Leave out ways of which another loses less and costs less, by *apart* at least."""
    return _undominated(ways, apart, strictly=True)


def _undominated(ways: tuple[Way, ...], apart: int | None, *, strictly: bool) -> tuple[Way, ...]:
    if apart is None:
        return ways
    least: dict[tuple[int, int], int] = {}
    for way in ways:
        key = way.lost, way.changes
        least[key] = min(way.line, least.get(key, way.line))
    below = {key: _below(key, least, strictly=strictly) for key in least}

    def stays(way: Way) -> bool:
        bound = below[way.lost, way.changes]
        return bound is None or way.line - bound < apart

    return tuple(way for way in ways if stays(way))


def _below(key: tuple[int, int], least: dict[tuple[int, int], int], *, strictly: bool) -> int | None:
    """The cheapest line among ways that lose no more than *key*, or *strictly* less."""
    lines = [
        line
        for other, line in least.items()
        if other[0] <= key[0] and other[1] <= key[1] and not (strictly and other == key)
    ]
    return min(lines, default=None)
