"""Front matter and body of a Markdown file; the line offset is added here, once."""

from dataclasses import dataclass

from sitegen.load.nodes import read
from sitegen.values.node import Map
from sitegen.values.problem import Problem
from sitegen.values.source import Place, Source


@dataclass(frozen=True, slots=True)
class Document:
    """A Markdown file: its front matter as a map, and where its body begins."""

    source: Source
    front: Map
    body_start: int

    @property
    def body(self) -> str:
        return self.source.text[self.body_start :]

    @property
    def body_place(self) -> Place:
        return Place(self.source, self.body_start, len(self.source.text))


def split(source: Source) -> tuple[Document | None, list[Problem]]:
    """Read *source* as front matter between two lines `---`, and a body."""
    text = source.text
    first = text.find("\n") + 1
    if not first or text[:first].rstrip() != "---":
        return None, [_lacking(source)]
    position = first - 1
    while (position := text.find("\n---", position)) >= 0:
        end = text.find("\n", position + 1)
        end = len(text) if end < 0 else end + 1
        if text[position + 1 : end].rstrip() == "---":
            front, problems = read(source, first, position + 1)
            return (Document(source, front, end) if front is not None else None), problems
        position += 1
    return None, [_open(source)]


def _lacking(source: Source) -> Problem:
    return Problem(
        "front-missing",
        Place(source, 0, 0),
        "this file does not begin with front matter",
        "What is made and what it costs is read from the lines between two lines of ---.",
        "write --- as the first line, then the lines of this file, then --- again",
    )


def _open(source: Source) -> Problem:
    return Problem(
        "front-open",
        Place(source, 0, 3),
        "the front matter that begins here never ends",
        "Without its end nobody can tell the recipe from the words for the couple.",
        "write --- on a line of its own after the last line of the recipe",
    )
