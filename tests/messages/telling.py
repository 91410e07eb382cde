"""All problems of a content folder as the command line tells them, without the command line."""

from pathlib import Path

from sitegen import report
from sitegen.check import photos
from sitegen.check.event import EventFound, check_event
from sitegen.check.shared import check_shared
from sitegen.load.tree import scan
from sitegen.model.content import EventFolder
from sitegen.pictures.develop import decodes
from sitegen.pictures.head import PhotoFault, head
from sitegen.pictures.opening import Fault, open_file
from sitegen.values.problem import Problem, in_order


def problems_in(root: Path) -> list[Problem]:
    """Check the folder at *root*, shown as `content`: every problem, in order."""
    tree = scan(root, "content")
    found = check_shared(tree)
    problems = list(found.problems)
    if found.shared is not None:
        for files in tree.events:
            event = check_event(files, found.shared)
            problems += [*event.problems, *_photos(event)]
    return in_order(problems)


def told(root: Path) -> str:
    """What the florist reads about the folder at *root*."""
    findings = [report.finding(problem) for problem in problems_in(root)]
    return report.whole(findings, "") + "\n" if findings else ""


def _photos(event: EventFound) -> list[Problem]:
    if event.folder is None:
        return []
    found = [fault for path in event.folder.photos.values() if (fault := _fault(path))]
    return list(photos.faults(event.folder.pieces, event.folder.photos, found))


def _fault(path: Path) -> PhotoFault | None:
    seen = head(path)
    if isinstance(seen, PhotoFault):
        return seen
    stream = open_file(path)
    if isinstance(stream, Fault):
        return PhotoFault(path, stream)
    with stream:
        kind = decodes(stream)
    return PhotoFault(path, kind) if kind else None


def folder_of(event: EventFound) -> EventFolder:
    """The event, which must be sound."""
    assert event.folder is not None, event.problems
    return event.folder
