"""Photos: that each one named is there and can be shown, and says what is seen."""

from collections.abc import Iterable, Iterator, Mapping
from pathlib import Path as FilePath

from sitegen.check.names import unknown
from sitegen.load.tree import EventFiles
from sitegen.model.content import PieceFile
from sitegen.pictures.head import PhotoFault
from sitegen.pictures.opening import PIXELS_MOST, Fault
from sitegen.values.node import ABSENT, Map, Path, place_at
from sitegen.values.number import shorten
from sitegen.values.problem import Problem
from sitegen.values.source import Place

_WHY = "The couple's page shows this picture with the piece."
_FAULTS = {
    Fault.MISSING: ("is not there any more", "put it into photos/ again"),
    Fault.NOT_A_FILE: ("is no ordinary file", "put the picture itself into photos/"),
    Fault.EMPTY: ("is empty: 0 bytes", "copy it from the camera again"),
    Fault.NOT_A_PHOTO: ("is not a photo, whatever its name says", "save the picture as JPEG"),
    Fault.OTHER_FORMAT: ("is {detail}, which browsers do not show", "save it as JPEG"),
    Fault.TOO_LARGE: (
        f"has more than {PIXELS_MOST // 1_000_000} million pixels",
        "make it smaller: 4000 pixels do",
    ),
    Fault.TRUNCATED: ("breaks off: the file is cut short", "copy it from the camera again"),
    Fault.UNREADABLE: ("cannot be read: the file is damaged", "copy it from the camera again"),
    Fault.CHANGED: ("was saved anew while it was read", "build again"),
    Fault.CRASHED: ("cannot be read: its decoder gave up on it", "open it and save it as JPEG"),
}


def check(pieces: Iterable[PieceFile], files: EventFiles) -> tuple[dict[str, FilePath], list[Problem]]:
    """Give the path of every photo that the pieces name; nothing is opened."""
    paths: dict[str, FilePath] = {}
    problems: list[Problem] = []
    refused = {problem.place.source.path for problem in files.problems}
    for piece in pieces:
        for i, photo in enumerate(piece.piece.photos):
            if photo.file in files.photos:
                paths[photo.file] = files.photos[photo.file].path
                problems += _alt(piece, i)
            elif photo.file != ABSENT and f"{files.shown}/photos/{photo.file}" not in refused:
                problems.append(_absent(piece, i, photo.file, files))
    return paths, problems


def _file_place(piece: PieceFile, index: int) -> Place:
    path: Path = ("photos", index, "file")
    photos = piece.node.entries.get("photos")
    item = getattr(photos[1], "items", ())[index] if photos else None
    return place_at(piece.node, path if isinstance(item, Map) else path[:2])


def _alt(piece: PieceFile, index: int) -> Iterator[Problem]:
    if piece.piece.photos[index].alt is None:
        what = "this photo has no words for who cannot see it"
        why = f'A screen reader will say "Photo of {piece.piece.piece}".'
        place = _file_place(piece, index)
        yield Problem("photo-alt", place, what, why, "add alt: and say what is seen", "warning")


def _absent(piece: PieceFile, index: int, name: str, files: EventFiles) -> Problem:
    place = _file_place(piece, index)
    if "/" in name or "\\" in name:
        what = f'"{shorten(name)}" leads into another folder'
        fix = "put the picture into the event's photos/ and write its name alone"
        return Problem("photo-folder", place, what, _WHY, fix)
    add = f"put {shorten(name)} into {files.shown}/photos/"
    return unknown("photo-missing", "photo", name, place, sorted(files.photos), _WHY, add=add)


def faults(
    pieces: Iterable[PieceFile], photos: Mapping[str, FilePath], found: Iterable[PhotoFault]
) -> Iterator[Problem]:
    """Say of each photo that cannot be shown where it is named and what is wrong with it."""
    by_path = {fault.path: fault for fault in found}
    for piece in pieces:
        for i, photo in enumerate(piece.piece.photos):
            path = photos.get(photo.file)
            if path is not None and (fault := by_path.get(path)):
                says, fix = _FAULTS[fault.kind]
                what = f"{photo.file} {says.format(detail=fault.detail)}"
                yield Problem("photo-unreadable", _file_place(piece, i), what, _WHY, fix)
