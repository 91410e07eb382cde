"""A problem in the content, as a value: reported with all others, never raised."""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

from sitegen.values.source import Place, Source

Severity = Literal["error", "warning"]


@dataclass(frozen=True, slots=True)
class Problem:
    """What is wrong, where, why it matters for the florist's work, and a fix she could type.

    *what* is one sentence in lower case without a full stop; *related* are
    other places worth a look, each with a word on what stands there.
    *event* is the folder it belongs to, or empty for the shared files.
    """

    code: str
    place: Place
    what: str
    why: str
    fix: str
    severity: Severity = "error"
    related: tuple[tuple[str, Place], ...] = ()
    event: str = ""


def whole_file(path: str, text: str = "") -> Place:
    """A place for what concerns a file or folder as a whole."""
    return Place(Source(path, text), 0, 0)


def in_order(problems: Iterable[Problem]) -> list[Problem]:
    """Sort by file, place and code, and drop repeats."""
    unique = dict.fromkeys(problems)
    return sorted(unique, key=lambda p: (p.place.source.path, p.place.start, p.place.end, p.code, p.what))


def has_errors(problems: Iterable[Problem]) -> bool:
    return any(problem.severity == "error" for problem in problems)
