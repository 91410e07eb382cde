"""How large a build card is set, so that it keeps to its half of the paper.

A card is cut along the middle of the paper, and only a browser knows how words fall into lines. Here they are
laid as a wide common typeface would, for the narrower paper (A4) and the shorter (Letter), in points.
"""

from dataclasses import dataclass, replace

from sitegen.render.order_card import Card
from sitegen.render.type_set import laid

_HALF = 300  # half of Letter, less the line at the foot and the air above the second card
_MATRIX_ROWS, _MATRIX_COLUMNS = 9, 6  # a set with more is spread over a whole page


@dataclass(frozen=True, slots=True)
class _Set:
    """How a card is set: size and line height of each part, the width it has, and columns of stems."""

    title: tuple[int, int]
    say: tuple[int, int]
    facts: tuple[int, int]
    stems: tuple[int, int]
    cares: tuple[int, int]
    how: int
    what: int
    label: int
    columns: int = 2
    picture: int = 0


_PAGE, _BESIDE = 515, 331  # A4 between its margins, and beside a picture of 58 mm
_LARGE = _Set((22, 25), (13, 17), (13, 17), (14, 23), (9, 12), how=_PAGE, what=_PAGE, label=68)
_PLAIN = _Set((22, 25), (13, 17), (11, 14), (12, 19), (9, 12), how=_PAGE, what=_PAGE, label=54)
_SMALL = replace(_PLAIN, how=_BESIDE, what=_BESIDE)
_COMPACT = _Set(
    (20, 23), (12, 15), (10, 13), (11, 17), (9, 11), how=370, what=_PAGE, label=48, columns=3, picture=172
)


def size_of(card: Card) -> str:
    """Say how *card* is set: `large` (no picture), `small` or `compact` in half a page, else `whole`.

    In a compact card the recipe stands below the picture, over the whole width.
    """
    matrix = card.matrix
    if matrix and (len(matrix.rows) > _MATRIX_ROWS or len(matrix.copies) > _MATRIX_COLUMNS):
        return "whole"
    bare, pictured = (("large", _LARGE), ("small", _PLAIN)), (("small", _SMALL), ("compact", _COMPACT))
    sizes = pictured if card.picture else bare
    return next((name for name, to in sizes if _height(card, to) <= _HALF), "whole")


def _height(card: Card, to: _Set) -> int:
    told = 10 + laid(card.title, to.title, to.how)
    told += sum(laid(text, to.say, to.how) for text in (f"{card.make} · {card.first}", card.cut) if text)
    told += sum(laid(fact.text, to.facts, to.how - to.label) for fact in card.facts)
    return max(told, to.picture) + _recipe(card, to) + _cares(card, to)


def _recipe(card: Card, to: _Set) -> int:
    if card.matrix:
        return 24 + 14 * len(card.matrix.rows)
    width = to.what // to.columns - 37  # less the count and the gap
    heights = [laid(f"{one.name.kind}{one.name.rest}", to.stems, width) for one in card.stems]
    return 8 + sum(max(heights[i : i + to.columns]) for i in range(0, len(heights), to.columns))


def _cares(card: Card, to: _Set) -> int:
    said = " ".join(("Care.", *card.cares))
    return 16 + laid(said, to.cares, to.what - 16) if card.cares else 0
