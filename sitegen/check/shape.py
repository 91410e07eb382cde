"""Nodes to shapes: pydantic reads, and its error locations become places in the file."""

import re
from typing import Any, TypeVar

from pydantic import ValidationError
from pydantic_core import ErrorDetails

from sitegen.check.lines import empty_lines, fields, unknown_key
from sitegen.check.partial import partial
from sitegen.check.why import EXAMPLES, why
from sitegen.model.fields import Shape
from sitegen.values.many import MOST, most
from sitegen.values.nearest import nearest
from sitegen.values.node import Node, Path, Scalar, Seq, blank, node_at, place_at, plain
from sitegen.values.number import shorten
from sitegen.values.problem import Problem
from sitegen.values.source import Place

S = TypeVar("S", bound=Shape)

_LINES = ("lines with keys of their own", 'write "key: value" lines below it, two spaces in')
# A word with a # before it stands behind a key; what is set apart from its # is a remark.
_UNREAD = re.compile(r"[^\S\n]*:[^\S\n]+(#[^\s#\"]\S*)")
_OTHER_KIND = ("something else", "compare it with a line that works")
_KINDS = {
    "tuple_type": ("a list", "write [ ] around it, or begin each line below it with -"),
    "dict_type": ("lines of names and amounts", 'write "name: amount" lines below it, two spaces in'),
    "model_type": _LINES,
    "model_attributes_type": _LINES,
}


def shape(kind: type[S], node: Node, path: Path = ()) -> tuple[S | None, list[Problem]]:
    """Read the part of *node* at *path* as a *kind*.

    With problems, what could be read is still given where that is possible, so
    that names in it can be checked in the same run; it must not be built.
    """
    data = _inside(node, path)
    problems = list(empty_lines(kind, node_at(node, path)))
    try:
        return kind.model_validate(data), most(problems)
    except ValidationError as error:
        faults = _faults(error)
    problems += [_problem(kind, node, path, fault) for fault in faults[: MOST + 1]]
    return partial(kind, data, faults), most(problems)


def _faults(error: ValidationError) -> list[ErrorDetails]:
    return error.errors(include_url=False, include_input=False)


def _inside(node: Node, path: Path) -> Any:
    """Give the part of *node* at *path* as plain data; a line with nothing behind it is an empty map."""
    found = node_at(node, path)
    return {} if found is None or blank(found) else plain(found)


def _problem(kind: type[Shape], node: Node, path: Path, fault: ErrorDetails) -> Problem:
    inner = tuple(step for step in fault["loc"] if step != "[key]")
    location = path + inner
    of_key = fault["loc"][-1:] == ("[key]",)
    context = fault.get("ctx", {})
    match fault["type"]:
        case "missing":
            return _missing(node, location)
        case "extra_forbidden":
            return _unknown_key(kind, node, location, inner)
        case "literal_error":
            return _unknown_value(node, location, str(context["expected"]))
        case "unreadable" | "wrong-type" | "one-of":
            code = {"unreadable": "value-unreadable", "wrong-type": "value-type", "one-of": "value-one-of"}
            place = place_at(node, location, key=of_key or fault["type"] == "one-of")
            return Problem(code[fault["type"]], place, context["what"], why(location), context["fix"])
        case other:
            wanted, fix = _KINDS.get(other, _OTHER_KIND)
            if other == "tuple_type" and location and location[-1] in EXAMPLES:
                fix = f"write {EXAMPLES[str(location[-1])]}"
            what = f"{_seen(node, location)} where {wanted} should"
            return Problem("value-type", place_at(node, location), what, why(location), fix)


def _seen(node: Node, location: Path) -> str:
    found = node_at(node, location)
    if isinstance(found, Scalar):
        return f'"{shorten(found.text)}" stands'
    return "a list stands" if isinstance(found, Seq) else "lines with keys stand"


def _missing(node: Node, location: Path) -> Problem:
    key = str(location[-1])
    example = EXAMPLES.get(key, f"{key}: …")
    fix = f"add {example}"
    if node_at(node, location) is not None:
        place = place_at(node, location, key=True)
        what = f'nothing stands behind "{key}"'
        if unread := _unread(place):
            what, fix = f"{what}: what follows a # is not read", f'put it in quotes: {key}: "{unread}"'
        return Problem("key-missing", place, what, why(location), fix)
    place = _first_line(node) if len(location) == 1 else place_at(node, location[:-1], key=True)
    return Problem("key-missing", place, f'"{key}" is missing', why(location), fix)


def _unread(key: Place) -> str:
    """Give what the author wrote behind *key* with a # before it, as colours are, so that it was no value."""
    found = _UNREAD.match(key.source.text, key.end)
    return found[1] if found else ""


def _first_line(node: Node) -> Place:
    """Where something is missing from a whole file, point at its first line."""
    source = node.place.source
    return Place(source, 0, max(1, source.text.find("\n")))


def _unknown_key(kind: type[Shape], node: Node, location: Path, inner: Path) -> Problem:
    return unknown_key(_kind_at(kind, inner[:-1]), str(location[-1]), place_at(node, location, key=True))


def _kind_at(kind: type[Shape], path: Path) -> type[Shape]:
    """Follow *path* from one shape to the shape within it."""
    for step in path:
        if isinstance(step, int):
            continue
        kind = fields(kind).get(step) or kind
    return kind


def _unknown_value(node: Node, location: Path, expected: str) -> Problem:
    allowed = re.findall(r"'([^']*)'", expected)
    seen = node_at(node, location)
    near = nearest(seen.text, allowed) if isinstance(seen, Scalar) else None
    what = f"{_seen(node, location)} where one of {', '.join(allowed)} should"
    fix = f'write "{near}"' if near else f"write one of {', '.join(allowed)}"
    return Problem("value-unknown", place_at(node, location), what, why(location), fix)
