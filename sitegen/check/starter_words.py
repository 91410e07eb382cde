"""Words that `sitegen new` writes only to be written over, wherever they still stand.

The starter's own files are the one source of them: nothing is kept here but where they stand in these.
"""

import re
from collections.abc import Iterable, Iterator
from functools import cache
from pathlib import Path as FilePath

from sitegen.load.front import Document, split
from sitegen.values.node import Path, Scalar, node_at
from sitegen.values.problem import Problem
from sitegen.values.source import Place, Source

STARTER = FilePath(__file__).parents[1] / "starter"

_FIELDS: dict[str, tuple[Path, ...]] = {
    "studio.md": (("studio",), ("contact", "name"), ("contact", "email"), ("contact", "phone")),
    "event.md": (("for",),),
}
_BODIES = ("studio.md", "event.md", "bouquet.md", "tables.md", "bare.md")
_CLAUSE = re.compile(r"[^.,:]+[.,:]")


def of_document(document: Document, kind: str = "") -> Iterator[Problem]:
    """Warn of the starter's words in a file of hers; *kind* is the file of the starter that it began as."""
    found = [
        *((text, place) for path, text in _fields(kind) for place in _same(document, path, text)),
        *((_shown(match[0]), place) for match, place in _clauses_in(document)),
    ]
    if not found:
        return
    (first, place), *others = found
    more = f" and {len(others)} other text{'s' if len(others) > 1 else ''} are" if others else " is"
    what = f'"{first}"{more} still the starter\'s'
    why = "The couple would read this in their proposal, and sign it in agreed.html."
    related = tuple((f'"{text}"', there) for text, there in others)
    yield Problem("starter-words", place, what, why, "put your own words there", "warning", related)


def left_in(texts: Iterable[str]) -> tuple[str, ...]:
    """Give the starter's words that stand in *texts*, each once, in their order."""
    fields = {text for kind in _FIELDS for _, text in _fields(kind)}
    found = [
        said
        for text in texts
        for said in ([text] if text in fields else (_shown(match[0]) for match in _clauses().finditer(text)))
    ]
    return tuple(dict.fromkeys(found))


def _same(document: Document, path: Path, text: str) -> Iterator[Place]:
    node = node_at(document.front, path)
    if isinstance(node, Scalar) and node.text.strip() == text:
        yield node.place


def _clauses_in(document: Document) -> Iterator[tuple[re.Match[str], Place]]:
    for match in _clauses().finditer(document.body):
        start = document.body_start + match.start()
        yield match, Place(document.source, start, start + len(match[0]))


def _shown(text: str) -> str:
    return " ".join(text.split())


@cache
def _fields(kind: str) -> tuple[tuple[Path, str], ...]:
    if kind not in _FIELDS:
        return ()
    document, _ = split(Source(kind, _text(kind)))
    nodes = ((path, node_at(document.front, path)) for path in _FIELDS[kind]) if document else ()
    return tuple((path, node.text) for path, node in nodes if isinstance(node, Scalar))


@cache
def _clauses() -> re.Pattern[str]:
    """The first clause of each text with its mark, however its lines are broken: no honest text has it."""
    bodies = (_text(name).split("\n---\n", 1)[1].strip() for name in _BODIES)
    clauses = dict.fromkeys(match[0] for body in bodies if (match := _CLAUSE.match(body)))
    each = (r"\s+".join(map(re.escape, clause.split())) for clause in clauses)
    return re.compile("|".join(each), re.IGNORECASE)


def _text(name: str) -> str:
    return (STARTER / name).read_text(encoding="utf-8")
