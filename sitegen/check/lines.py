"""Lines that are known, and lines with nothing behind them.

A known line that is left empty counts as not written; anything else that is empty would be lost.
"""

import typing
from collections.abc import Iterator, Mapping
from functools import cache
from typing import Any

from sitegen.model.fields import Shape
from sitegen.values.nearest import nearest
from sitegen.values.node import Map, Node, Scalar, Seq, blank
from sitegen.values.number import shorten
from sitegen.values.problem import Problem
from sitegen.values.source import Place

_NOTHING: Mapping[str, None] = {}
_LOST = "A line that is not read would be lost without a word."


def unknown_key(kind: type[Shape], key: str, place: Place) -> Problem:
    """Say that *key* is no line of *kind*, and which are."""
    allowed = list(fields(kind))
    near = nearest(key, allowed)
    listed = ", ".join(allowed)
    fix = f'write "{near}"; known here are {listed}' if near else f"known here are {listed}"
    return Problem("key-unknown", place, f'"{shorten(key)}" is not a line that is known here', _LOST, fix)


@cache
def fields(kind: type[Shape]) -> Mapping[str, type[Shape] | None]:
    """The lines of *kind* as they are written, and the shape within each, if one is."""
    return {field.alias or name: _shape_in(field.annotation) for name, field in kind.model_fields.items()}


def _shape_in(annotation: Any) -> type[Shape] | None:
    """Find the shape within a type: `Photo` in `tuple[Photo, ...]`."""
    if isinstance(annotation, type) and issubclass(annotation, Shape):
        return annotation
    found = (_shape_in(part) for part in typing.get_args(annotation))
    return next((part for part in found if part), None)


def empty_lines(kind: type[Shape] | None, node: Node | None) -> Iterator[Problem]:
    """Report empty lines in *node* that are not lines of *kind*: amounts that lack, and unknown keys."""
    if isinstance(node, Seq):
        for item in node.items:
            yield from empty_lines(kind, item)
    if not isinstance(node, Map):
        return
    known = fields(kind) if kind else _NOTHING
    for name, (key, value) in node.entries.items():
        if not isinstance(value, Scalar):
            yield from empty_lines(known.get(name), value)
        elif blank(value) and name not in known:
            yield _empty(kind, key)


def _empty(kind: type[Shape] | None, key: Scalar) -> Problem:
    if kind is None:
        what, fix = f'nothing stands behind "{shorten(key.text)}"', "write how much, or delete the line"
        return Problem("key-missing", key.place, what, _LOST, fix)
    if key.text.isdigit():
        what = f'a comma parts "{key.text}" from the number before it'
        why = "The number would be read as what stands before the comma."
        return Problem("value-unreadable", key.place, what, why, "write a point, such as 4.10")
    return unknown_key(kind, key.text, key.place)
