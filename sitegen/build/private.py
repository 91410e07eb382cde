"""Every value of the content that a couple must never read, with a word on what it is."""

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction

from sitegen.build.amounts import shown_amounts
from sitegen.build.event import Worked
from sitegen.build.printed import amounts_in
from sitegen.render.desk_left import left_of
from sitegen.values.node import Map, Node, Scalar, Seq

# Keys below which everything is private, in whatever file they stand.
_PRIVATE = {
    "private", "budget", "crew", "work", "closed", "matters", "pricing", "supplier", "sold_as", "price",
    "breaks", "loss", "owned", "replace", "paid", "tools", "first_aid",
}  # fmt: skip
# A price of a piece is what the couple pay.
_PRICES = {"price": "what a supplier asks", "budget": "the budget", "replace": "what it costs to replace"}
_PRICES |= {"pay": "what a hand is paid", "per_hour": "labour by the hour", "minimum": "a minimum order"}
_NUMBER = re.compile(r"\d{1,12}(\.\d{1,6})?")
_LEAST_LETTERS = 4


@dataclass(frozen=True, slots=True)
class Private:
    """Private texts in small letters, and amounts in smallest units, each with what it is."""

    texts: Mapping[str, str]
    amounts: Mapping[int, str]


def private_values(worked: Worked) -> Private:
    """Gather what is private. What the florist also wrote for the couple, or what they pay, is not."""
    texts: dict[str, str] = {}
    amounts: dict[int, str] = dict(_costs(worked))
    written: list[str] = []
    for what, name, text, hidden in _values(worked):
        if not hidden:
            written.append(text)
        elif _NUMBER.fullmatch(text):
            if name in _PRICES:
                amounts[worked.priced.shared.currency.units(Fraction(text))] = f"{_PRICES[name]} ({what})"
        elif len(text) >= _LEAST_LETTERS:
            texts[" ".join(text.lower().split())] = f"{name} of {what}"
    public = " ".join(" ".join(written).lower().split())
    kept = {text: what for text, what in texts.items() if text not in public}
    told = {0, *shown_amounts(worked), *amounts_in(public, worked.priced.shared.currency.digits)}
    return Private(kept, {units: what for units, what in amounts.items() if units not in told})


def _costs(worked: Worked) -> Iterator[tuple[int, str]]:
    """What pieces and the order cost and leave, rounded as they would be printed."""
    units = worked.priced.shared.currency.units
    for event in (worked.content, worked.priced):
        for piece in event.pieces:
            for one in piece.combinations:
                cost = units(one.cost)
                yield cost, f"what {piece.file.piece.piece} costs"
                yield abs(one.each - cost), f"what {piece.file.piece.piece} leaves"
    left = left_of(worked.totals, worked.order)
    parts = {"stems": left.stems, "goods": left.goods, "deliveries": left.deliveries}
    for name, part in parts.items():
        yield part, f"what the order's {name} cost"
    yield sum(parts.values()), "what the whole order costs"
    yield abs(left.after_materials), "what is left after materials"
    yield units(worked.order.quoted), "what was counted for materials"
    for row in worked.order.rows:
        yield units(row.cost), f"what {row.thing.id} costs in the order"


def _values(worked: Worked) -> Iterator[tuple[str, str, str, bool]]:
    """Give every value: what it belongs to, the key that it stands under, its text, whether it is private."""
    shared, folder = worked.priced.shared, worked.folder
    for words in (shared.terms, folder.note, *(piece.words for piece in folder.pieces)):
        yield "", "", words.text, False
    yield from _below(shared.nodes.studio, "studio.md", "", hidden=False)
    yield from _below(folder.node, "event.md", "", hidden=False)
    for piece in folder.pieces:
        yield from _piece(piece.id, piece.node)
    for file in (shared.nodes.stems, shared.nodes.goods):
        for name, (_, node) in file.entries.items():
            yield from _below(node, name, "", hidden=False)
    for name, (_, node) in shared.nodes.suppliers.entries.items():
        yield name, "supplier", name, True
        yield from _below(node, name, "", hidden=True)


def _piece(name: str, node: Map) -> Iterator[tuple[str, str, str, bool]]:
    for key, (_, below) in node.entries.items():
        hidden = key in _PRIVATE and key != "price"
        yield from _below(below, name, key, hidden=hidden)


def _below(node: Node, what: str, name: str, *, hidden: bool) -> Iterator[tuple[str, str, str, bool]]:
    if isinstance(node, Map):
        for key, (_, below) in node.entries.items():
            yield from _below(below, what, key, hidden=hidden or key in _PRIVATE)
    elif isinstance(node, Seq):
        for item in node.items:
            yield from _below(item, what, name, hidden=hidden)
    elif isinstance(node, Scalar):
        yield what, name, node.text, hidden
