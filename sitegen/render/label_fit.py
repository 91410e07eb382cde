"""How large a label is set: as large as all of its lines fit, on either paper."""

from collections.abc import Iterator, Mapping, Sequence

from sitegen.model.labels import LabelSheet
from sitegen.render.labels import Label, Line
from sitegen.render.paper import shorten
from sitegen.render.type_set import laid
from sitegen.values.length import Length

Type = tuple[int, int]
"""Size and line height in points, the larger of the size where it is no whole number."""

_SHORTEST = 12  # letters that no cut goes below

# As labels.css sets them; bold words run wider than their size. A stop or a name stands on one line.
_STOPS: Mapping[str, Mapping[str, Type]] = {
    "boxes": {"stop-1": (33, 32), "stop-2": (25, 25), "stop-3": (18, 19)},
    "wearers": {"stop-1": (21, 22), "stop-2": (17, 18), "stop-3": (13, 14)},
}
_ROLES = ("title", "what", "handling", "small")
_REST: Mapping[str, Mapping[str, tuple[Type, ...]]] = {
    "boxes": {
        "large": ((18, 19), (12, 15), (13, 15), (9, 11)),
        "medium": ((15, 17), (11, 13), (12, 13), (9, 11)),
        "tight": ((12, 14), (9, 12), (10, 12), (9, 11)),
    },
    "wearers": {
        "large": ((10, 13), (10, 13), (10, 13), (9, 11)),
        "tight": ((9, 11), (9, 11), (9, 11), (8, 10)),
    },
}
_BESIDE = {"boxes": 35, "wearers": 46}  # points at the left and right of the words
_AROUND = {"boxes": 15, "wearers": 10}  # above and below them
_DRAFT = 15  # the boxed word under them


def fitted(kind: str, lines: Sequence[Line], measures: LabelSheet, *, draft: bool) -> Label:
    """Set *lines* as large as they fit; where none does, the smallest, with the longest lines cut."""
    papers = (measures.a4, measures.letter)
    width = min(_points(paper.width) for paper in papers) - _BESIDE[kind]
    room = min(_points(paper.height) for paper in papers) - _AROUND[kind] - (_DRAFT if draft else 0)
    said = tuple(line for line in lines if line.text)
    sizes = list(_sizes(kind, said[0], width))
    for size, types in sizes:
        if _height(said, types, width) <= room:
            return Label(said, size)
    size, types = sizes[-1]
    return Label(_shortened(said, types, width, room), size)


def _sizes(kind: str, stop: Line, width: int) -> Iterator[tuple[str, Mapping[str, Type]]]:
    """Sizes to try: the first line as large as it stands on one for as long as the others fit below it."""
    stops = list(_STOPS[kind].items())
    whole = [one for one in stops if laid(stop.text, one[1], width) == one[1][1]] or stops[-1:]
    for name, stop_type in whole:
        for rest, types in _REST[kind].items():
            yield f"{name} {rest}", {"stop": stop_type, **dict(zip(_ROLES, types, strict=True))}


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
