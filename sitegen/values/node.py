"""Placed nodes: what a content file says, as text with places, before anyone decides what it means."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TypeAlias

from sitegen.values.source import Place

Path: TypeAlias = tuple[str | int, ...]
Plain: TypeAlias = "str | list[Plain] | dict[str, Plain]"

# A letter of a script that nobody can read (Linear A). It stands in for a name that could not be read while
# the rest of its file is checked, so no file may hold it.
ABSENT = "\U00010640"


@dataclass(frozen=True, slots=True)
class Scalar:
    """One text. *quoted* tells `""`, which is a text, from a key with nothing behind it."""

    text: str
    place: Place
    quoted: bool = False


@dataclass(frozen=True, slots=True)
class Seq:
    items: "tuple[Node, ...]"
    place: Place


@dataclass(frozen=True, slots=True)
class Map:
    entries: "dict[str, tuple[Scalar, Node]]"
    place: Place

    def __iter__(self) -> Iterator[str]:
        return iter(self.entries)


Node: TypeAlias = Scalar | Seq | Map


def plain(node: Node) -> Plain:
    """Give *node* as plain lists, dicts and texts. A key with nothing behind it counts as not written."""
    if isinstance(node, Scalar):
        return node.text
    if isinstance(node, Seq):
        return [plain(item) for item in node.items]
    return {key: plain(value) for key, (_, value) in node.entries.items() if not blank(value)}


def blank(node: Node) -> bool:
    return isinstance(node, Scalar) and not node.quoted and not node.text


def empty_list(node: Node, path: Path) -> bool:
    """Whether a list with nothing in it was written at *path*."""
    found = node_at(node, path)
    return isinstance(found, Seq) and not found.items


def node_at(node: Node, path: Path) -> Node | None:
    """Give the part of *node* at *path*, or None where the path leads nowhere."""
    for step in path:
        if isinstance(node, Map) and isinstance(step, str) and step in node.entries:
            node = node.entries[step][1]
        elif isinstance(node, Seq) and isinstance(step, int) and step < len(node.items):
            node = node.items[step]
        else:
            return None
    return node


def place_at(node: Node, path: Path, *, key: bool = False) -> Place:
    """Give the place of the value at *path*, or of its key; where the path ends early, the last thing found.

    A list or map is shown by the key that names it: its own end lies on the next key's line.
    """
    named: Place | None = None
    for step in path:
        if isinstance(node, Map) and isinstance(step, str) and step in node.entries:
            name, node = node.entries[step]
            named = name.place
        elif isinstance(node, Seq) and isinstance(step, int) and step < len(node.items):
            node = node.items[step]
            named = None
        else:
            break
    if named is not None and (key or not isinstance(node, Scalar) or blank(node)):
        return named
    return node.place if isinstance(node, Scalar) or named is None else named
