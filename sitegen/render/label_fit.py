"""How large a label is set: as large as all of its lines fit, on either paper."""

from collections.abc import Mapping, Sequence

from sitegen.model.labels import LabelSheet
from sitegen.render.labels import Label, Line
from sitegen.render.paper import shorten
from sitegen.render.type_set import laid
from sitegen.values.length import Length

Type = tuple[int, int]
"""Size and line height in points, the larger of the size where it is no whole number."""

_SMALLEST = "tight"
_SHORTEST = 12  # letters that no cut goes below

# As labels.css sets them; bold words run wider than their size.
TYPES: Mapping[str, Mapping[str, Mapping[str, Type]]] = {
    "boxes": {
        "large": {"stop": (33, 32), "title": (18, 19), "what": (12, 15), "handling": (13, 15), "small": (9, 11)},
        "medium": {"stop": (24, 25), "title": (15, 17), "what": (11, 13), "handling": (12, 13), "small": (9, 11)},
        "tight": {"stop": (18, 19), "title": (12, 14), "what": (9, 12), "handling": (10, 12), "small": (9, 11)},
    },
    "wearers": {
        "large": {"stop": (21, 22), "title": (10, 13), "small": (9, 11)},
        "medium": {"stop": (17, 18), "title": (10, 13), "small": (9, 11)},
        "tight": {"stop": (13, 14), "title": (9, 11), "small": (8, 10)},
    },
}  # fmt: skip
_BESIDE = {"boxes": 35, "wearers": 46}  # points at the left and right of the words
_AROUND = {"boxes": 15, "wearers": 10}  # above and below them
_DRAFT = 15  # the boxed word under them


def fitted(kind: str, lines: Sequence[Line], measures: LabelSheet, *, draft: bool) -> Label:
    """Set *lines* as large as they fit; where none does, the smallest, with the longest lines cut."""
    papers = (measures.a4, measures.letter)
    width = min(_points(paper.width) for paper in papers) - _BESIDE[kind]
    room = min(_points(paper.height) for paper in papers) - _AROUND[kind] - (_DRAFT if draft else 0)
    said = tuple(line for line in lines if line.text)
    for size, types in TYPES[kind].items():
        if _height(said, types, width) <= room:
            return Label(said, size)
    return Label(_shortened(said, TYPES[kind][_SMALLEST], width, room), _SMALLEST)


def _shortened(lines: tuple[Line, ...], types: Mapping[str, Type], width: int, room: int) -> tuple[Line, ...]:
    while _height(lines, types, width) > room:
        shorter = _cut(lines, types, width)
        if shorter == lines:
            break
        lines = shorter
    return lines


def _height(lines: Sequence[Line], types: Mapping[str, Type], width: int) -> int:
    return sum(laid(line.text, types[line.role], width) for line in lines)


def _cut(lines: tuple[Line, ...], types: Mapping[str, Type], width: int) -> tuple[Line, ...]:
    """Cut the line that takes most of the height by a fifth."""
    longest = max(
        (line for line in lines if len(line.text) > _SHORTEST),
        key=lambda line: (laid(line.text, types[line.role], width), len(line.text)),
        default=None,
    )
    return tuple(
        Line(line.role, shorten(line.text, len(line.text) * 4 // 5)) if line is longest else line
        for line in lines
    )


def _points(length: Length) -> int:
    return int(length.to("in").amount * 72)
