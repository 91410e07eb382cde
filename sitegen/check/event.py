"""An event folder: event.md, its pieces and photos, read and checked against the catalogue."""

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from pathlib import Path as FilePath

from sitegen.check import (
    catalogue,
    choices,
    clocks,
    hours,
    names_used,
    photos,
    season,
    starter_words,
    vessels,
)
from sitegen.check.partial import NO_DAY
from sitegen.check.prose import check_words
from sitegen.check.quantity import bounds
from sitegen.check.shape import shape
from sitegen.check.shared import document_of
from sitegen.load.front import Document
from sitegen.load.tree import EventFiles, File
from sitegen.model.content import EventFolder, PieceFile, Shared, Words
from sitegen.model.event import Event
from sitegen.model.piece import Piece
from sitegen.values.many import most
from sitegen.values.node import place_at
from sitegen.values.problem import Problem, has_errors, whole_file

_NUMBERED = re.compile(r"^[0-9]+[-_ ]+")


@dataclass(frozen=True, slots=True)
class EventFound:
    """What could be read of an event; *folder* is None where it cannot be built."""

    id: str
    folder: EventFolder | None
    problems: list[Problem]


@dataclass(frozen=True, slots=True)
class _Read:
    """A piece as far as it could be read."""

    id: str
    piece: Piece
    document: Document
    whole: bool


def check_event(files: EventFiles, shared: Shared | None) -> EventFound:
    """Read an event and check it, also against *shared*; every problem carries the event's id.

    Where the shared files could not be read, only what the event's own lines say is checked.
    """
    found, problems = _check(files, shared)
    problems = [*files.problems, *problems]
    folder = None if has_errors(problems) else found
    return EventFound(files.id, folder, [replace(problem, event=files.id) for problem in problems])


def _check(files: EventFiles, shared: Shared | None) -> tuple[EventFolder | None, list[Problem]]:
    if files.event is None:
        return None, [_no_event(files)]
    event, document, problems = _event(files.event)
    reads, more = _pieces(files.pieces)
    problems += [*more, *_ids_differ(reads)]
    if event is None or document is None:
        return None, problems
    problems += [*_folder_day(files, event, document), *_none(files), *most(_event_own(event, document))]
    problems += most(_event_across(event, document, shared)) if shared else []
    pieces = []
    for read in reads:
        quantity, some = bounds(read.piece, event, read.document.front, document.front)
        problems += some
        words = Words(read.document.body.strip(), read.document.body_place)
        piece = PieceFile(read.id, read.piece, quantity, words, read.document.front)
        pieces.append(piece)
        problems += most(_piece_own(piece, event, document, whole=read.whole))
        problems += most(_piece_across(piece, event, shared, document, whole=read.whole)) if shared else []
    problems += choices.many(pieces)
    paths, some = photos.check(pieces, files)
    problems += some
    note = Words(document.body.strip(), document.body_place)
    return EventFolder(files.id, event, note, tuple(pieces), paths, document.front), problems


def _no_event(files: EventFiles) -> Problem:
    what = "there is no event.md in this folder"
    why = "Without it nobody knows for whom and for which day the pieces are."
    fix = "write event.md with event:, for: and date: between two lines of ---"
    return Problem("event-missing", whole_file(f"{files.shown}/event.md"), what, why, fix)


def _event(file: File) -> tuple[Event | None, Document | None, list[Problem]]:
    document, problems = document_of(file)
    if document is None:
        return None, None, problems
    event, more = shape(Event, document.front)
    left = starter_words.of_document(document, "event.md")
    return event, document, [*problems, *more, *check_words(document), *left]


def _pieces(files: Mapping[str, File]) -> tuple[list[_Read], list[Problem]]:
    reads: list[_Read] = []
    problems: list[Problem] = []
    for name, file in files.items():
        document, some = document_of(file)
        problems += some
        if document is None:
            continue
        piece, more = shape(Piece, document.front)
        left = list(starter_words.of_document(document))
        problems += [*more, *check_words(document), *left]
        if piece is not None:
            reads.append(_Read(_id(name), piece, document, whole=not (some or more)))
    return reads, problems


def _id(name: str) -> str:
    stem = FilePath(name).stem
    return _NUMBERED.sub("", stem) or stem


def _ids_differ(reads: list[_Read]) -> Iterator[Problem]:
    seen: dict[str, _Read] = {}
    for read in reads:
        if first := seen.get(read.id):
            what = f'two pieces are called "{read.id}"'
            why = "Answers and figures are kept under the name of the file without its number."
            place = whole_file(read.document.source.path)
            other = whole_file(first.document.source.path)
            yield Problem(
                "piece-repeated", place, what, why, "rename one of the files", related=(("the first", other),)
            )
        seen.setdefault(read.id, read)


def _folder_day(files: EventFiles, event: Event, document: Document) -> Iterator[Problem]:
    day = re.match(r"[0-9]{4}-[0-9]{2}-[0-9]{2}", files.id)
    if day and event.date != NO_DAY and day[0] != event.date.isoformat():
        what = f"the folder is called {day[0]}, and the event is on {event.date.isoformat()}"
        why = "Seasons, order days and payments follow this date; the folder is only found by its name."
        place = place_at(document.front, ("date",))
        yield Problem("date-folder", place, what, why, "rename the folder or mend the date", "warning")


def _none(files: EventFiles) -> Iterator[Problem]:
    if not files.pieces and not has_errors(files.problems):
        what = "there are no pieces in this event"
        why = "The proposal shows one piece for each .md file beside event.md."
        fix = "write one such as 01-bouquet.md"
        yield Problem("pieces-none", whole_file(f"{files.shown}/event.md"), what, why, fix, "warning")


def _event_own(event: Event, document: Document) -> Iterator[Problem]:
    node = document.front
    yield from hours.of_event(event, node)
    yield from catalogue.repeated("places", [place.id for place in event.places], node, "place")
    yield from catalogue.charges(event.charges or (), node)
    yield from catalogue.payments(event.payments or (), node)


def _event_across(event: Event, document: Document, shared: Shared) -> Iterator[Problem]:
    yield from names_used.of_event(event, document.front, shared)
    yield from season.of_stand_ins(event, document.front, shared)
    yield from clocks.of_event(event, document.front, shared.studio.language)


def _piece_own(piece: PieceFile, event: Event, document: Document, *, whole: bool) -> Iterator[Problem]:
    if whole:
        yield from _something(piece)
    yield from hours.of_piece(piece, event, document.front)
    yield from choices.check(piece)


def _piece_across(
    piece: PieceFile, event: Event, shared: Shared, document: Document, *, whole: bool
) -> Iterator[Problem]:
    yield from names_used.of_piece(piece, event, shared, document.front, whole=whole)
    yield from season.of_piece(piece, event, shared)
    yield from vessels.check(piece, shared)
    yield from clocks.of_piece(piece.piece, event, piece.node, shared.studio.language)


def _something(piece: PieceFile) -> Iterator[Problem]:
    if not piece.piece.recipe and not piece.piece.goods:
        first = place_at(piece.node, ("piece",), key=True)
        what = "there is neither a recipe nor goods"
        why = "A piece is priced from what goes into it."
        yield Problem("recipe-missing", first, what, why, "add recipe: with one stem a line")
