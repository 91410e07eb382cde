"""YAML to placed nodes. Every scalar stays text until a field reads it.

The C parser's events are taken one by one, so that what YAML would resolve or
guess behind the author's back (aliases, merges, tags, repeated keys) can be
refused with its place.
"""

import re
from collections.abc import Callable, Iterator
from dataclasses import replace
from typing import Any, TypeAlias

import yaml

from sitegen.load.syntax import WHY, shown_where_it_begins, syntax
from sitegen.values.many import most
from sitegen.values.node import ABSENT, Map, Node, Scalar, Seq
from sitegen.values.problem import Problem
from sitegen.values.source import Place, Source

# The C parser's events carry what their kind carries; PyYAML's stubs name only the base.
Event: TypeAlias = Any

_LOADER = getattr(yaml, "CSafeLoader", yaml.SafeLoader)
_DEEPEST = 12
# What YAML does not allow, and what would break a line here and not there.
_CONTROL = re.compile(
    "[^\t\n\x20-\x7e\xa0-\u2027\u202a-\ud7ff\ue000-\ufefe\uff00-\ufffd\U00010000-\U0010ffff]"
)
_STRANGE = ("a character that no font shows stands here", "delete it and type the line again")


class _Refused(Exception):
    """Stops reading one file at what cannot be read past; becomes a problem at once."""

    def __init__(self, problem: Problem) -> None:
        super().__init__(problem.what)
        self.problem = problem


class _Reader:
    """Builds nodes from one stretch of a source; collects what is wrong on the way."""

    def __init__(self, source: Source, start: int, text: str) -> None:
        self.source = source
        self.start = start
        self.events: Iterator[Event] = yaml.parse(text, Loader=_LOADER)
        self.problems: list[Problem] = []

    def place(self, event: Event) -> Place:
        return Place(self.source, self.start + event.start_mark.index, self.start + event.end_mark.index)

    def problem(self, code: str, event: Event, what: str, fix: str) -> Problem:
        return Problem(code, self.place(event), what, WHY, fix)

    def document(self) -> Node | None:
        next(self.events)  # the stream begins
        first = next(self.events)
        if isinstance(first, yaml.StreamEndEvent):
            return None
        node = self.node(next(self.events), 0)
        next(self.events)  # the document ends
        after = next(self.events)
        if not isinstance(after, yaml.StreamEndEvent):
            # What stands in it is lost, and its names would be reported as missing everywhere.
            raise _Refused(
                self.problem(
                    "yaml-second",
                    after,
                    "a second document begins here",
                    "delete this line of dashes or dots",
                )
            )
        return node

    def node(self, event: Event, depth: int) -> Node:
        if isinstance(event, yaml.AliasEvent):
            what, fix = "an alias stands for lines elsewhere", "write the lines out here"
            raise _Refused(self.borrowed(self.problem("yaml-alias", event, what, fix)))
        if event.anchor or event.tag:
            self.refuse_extras(event)
        if depth > _DEEPEST:
            raise _Refused(
                self.problem(
                    "yaml-deep", event, "brackets or indents are nested too deep", "move these lines left"
                )
            )
        if isinstance(event, yaml.ScalarEvent):
            return self.scalar(event)
        if isinstance(event, yaml.SequenceStartEvent):
            return self.seq(event, depth)
        return self.map(event, depth)

    def scalar(self, event: Event) -> Scalar:
        if ABSENT in event.value:
            raise _Refused(self.problem("yaml-syntax", event, *_STRANGE))
        return Scalar(event.value, self.place(event), quoted=bool(event.style))

    def refuse_extras(self, event: Event) -> None:
        if event.anchor:
            self.problems.append(
                self.problem(
                    "yaml-anchor", event, f'an anchor "&{event.anchor}" names these lines', "delete it"
                )
            )
        if event.tag:
            self.problems.append(
                self.problem("yaml-tag", event, "a tag beginning with ! stands here", "delete it")
            )

    def borrowed(self, problem: Problem) -> Problem:
        """What borrows lines and the anchor that lends them are one problem."""
        anchors = [found for found in self.problems if found.code == "yaml-anchor"]
        self.problems = [found for found in self.problems if found.code != "yaml-anchor"]
        return replace(problem, related=tuple(("an anchor", found.place) for found in anchors))

    def seq(self, start: Event, depth: int) -> Seq:
        items: list[Node] = []
        while not isinstance(event := next(self.events), yaml.SequenceEndEvent):
            items.append(self.node(event, depth + 1))
        return Seq(tuple(items), self.place(start))

    def map(self, start: Event, depth: int) -> Map:
        entries: dict[str, tuple[Scalar, Node]] = {}
        while not isinstance(event := next(self.events), yaml.MappingEndEvent):
            key = self.node(event, depth + 1)
            if not isinstance(key, Scalar):
                raise _Refused(
                    self.problem(
                        "yaml-key", event, "a list or map stands where a key is needed", "write a short name"
                    )
                )
            if key.text == "<<" and not key.quoted:
                what, fix = "a merge key takes in lines from elsewhere", "write the lines out here"
                raise _Refused(self.borrowed(Problem("yaml-merge", key.place, what, WHY, fix)))
            value = self.node(next(self.events), depth + 1)
            if key.text in entries:
                self.problems.append(self.repeated(key, entries[key.text][0]))
            else:
                entries[key.text] = (key, value)
        return Map(entries, self.place(start))

    def repeated(self, key: Scalar, first: Scalar) -> Problem:
        return Problem(
            "key-repeated",
            key.place,
            f'"{key.text}" is written twice',
            "Only one of the two lines could count, and nobody would see which.",
            "keep one of them",
            related=(("the first", first.place),),
        )


def read(source: Source, start: int = 0, end: int | None = None) -> tuple[Map | None, list[Problem]]:
    """Read the YAML of *source* from *start* to *end* as one map.

    Gives None where the text cannot be read at all; the problems say why.
    Places are counted in the whole source. An empty text is an empty map.
    """
    text = source.text[start:end]
    whole = Place(source, start, start)
    if control := _CONTROL.search(text):
        at = start + control.start()
        return None, [Problem("yaml-syntax", Place(source, at, at + 1), _STRANGE[0], WHY, _STRANGE[1])]
    reader = _Reader(source, start, text)
    node, problem = _guarded(reader.document, source, start)
    found = most(reader.problems)
    if problem:
        return None, [*found, problem]
    if node is None or (isinstance(node, Scalar) and not node.text):
        return Map({}, whole), found
    if not isinstance(node, Map):
        what = "this is not a list of keys and values"
        return None, [
            *found,
            Problem("yaml-shape", node.place, what, WHY, 'write "key: value" lines'),
        ]
    return node, found


def _guarded(
    build: Callable[[], Node | None], source: Source, start: int
) -> tuple[Node | None, Problem | None]:
    try:
        return build(), None
    except _Refused as refused:
        return None, refused.problem
    except yaml.MarkedYAMLError as error:
        said = error.problem or ""
        mark = error.context_mark if shown_where_it_begins(said) else error.problem_mark
        return None, syntax(source, start + (mark.index if mark else 0), said)
    except yaml.YAMLError:  # not met since control characters are looked for before
        return None, syntax(source, start, "")
