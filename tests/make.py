"""Small content for tests, made without files: a studio, a catalogue, an event with pieces.

Values are texts, as content files give them.
"""

from collections.abc import Mapping
from typing import Any

from sitegen.model.catalogue import Good, Stem, Supplier
from sitegen.model.content import Bounds, EventFolder, Nodes, PieceFile, Shared, Words
from sitegen.model.event import Event
from sitegen.model.piece import Count, Piece
from sitegen.model.terms import Studio
from sitegen.values.money import DIGITS, Currency
from sitegen.values.node import Map, Node, Scalar, Seq
from sitegen.values.source import Place, Source

Raw = Mapping[str, Any]

STUDIO: dict[str, Any] = {
    "studio": "Test Studio",
    "contact": {"name": "Una Test"},
    "language": "en-US",
    "currency": "USD",
    "pricing": {"markup": {"fresh": "1"}},
}
NOWHERE = Place(Source("test", ""), 0, 0)
NO_MAP = Map({}, NOWHERE)


def node(value: Any, path: str = "test") -> Node:
    """Placed nodes of plain values. Each scalar gets a source of its own, so that its excerpt is its text."""
    if isinstance(value, Mapping):
        return mapping(value, path)
    if isinstance(value, list | tuple):
        return Seq(tuple(node(item, path) for item in value), NOWHERE)
    text = str(value)
    return Scalar(text, Place(Source(path, text), 0, len(text)))


def mapping(value: Raw, path: str = "test") -> Map:
    entries = {
        key: (Scalar(key, Place(Source(path, key), 0, len(key))), node(item, path))
        for key, item in value.items()
    }
    return Map(entries, NOWHERE)


def stem(price: str, bunch: str = "1", role: str = "form", **more: Any) -> dict[str, Any]:
    """A stem with one offer, as stems.yaml has it."""
    offers = [{"supplier": "farm", "bunch": bunch, "price": price}]
    return {"name": "A stem", "role": role, "colour": "#aabbcc", "offers": offers, **more}


def pack(price: str, **more: str) -> dict[str, Any]:
    """A good with one pack, as goods.yaml has it: `pieces` or `length`."""
    return {"name": "A good", "packs": [{"supplier": "farm", "price": price, **more}]}


def shared(*, stems: Raw | None = None, goods: Raw | None = None, **studio: Any) -> Shared:
    """The shared files; *studio* overrides single keys of a plain one that sells at cost."""
    written = {**STUDIO, **studio}
    terms = Studio.model_validate(written)
    farm = {"name": "A farm"}
    return Shared(
        studio=terms,
        currency=Currency(terms.currency, DIGITS[terms.currency]),
        terms=Words("", NOWHERE),
        stems={name: Stem.model_validate(one) for name, one in (stems or {}).items()},
        goods={name: Good.model_validate(one) for name, one in (goods or {}).items()},
        suppliers={"farm": Supplier.model_validate(farm)},
        stock={},
        nodes=Nodes(
            mapping(written, "studio.md"),
            mapping(stems or {}, "stems.yaml"),
            mapping(goods or {}, "goods.yaml"),
            mapping({"farm": farm}, "suppliers.yaml"),
        ),
    )


def event(*pieces: Raw, day: str = "2031-06-14", **more: Any) -> EventFolder:
    """An event whose pieces are called p1, p2 … unless they bring an `id`."""
    written = {"event": "A test", "for": "Ada and Ben", "date": day, **more}
    shape = Event.model_validate(written)
    files = tuple(piece_file(raw, f"p{i}", shape) for i, raw in enumerate(pieces, 1))
    return EventFolder(f"{day}-test", shape, Words("", NOWHERE), files, {}, mapping(written, "event.md"))


def piece_file(raw: Raw, name: str, of: Event) -> PieceFile:
    written = {
        "piece": "A piece",
        "group": "Tables",
        **{key: value for key, value in raw.items() if key != "id"},
    }
    piece = Piece.model_validate(written)
    return PieceFile(
        str(raw.get("id", name)),
        piece,
        bounds(piece, of.counts),
        Words("", NOWHERE),
        mapping(written, f"{name}.md"),
    )


def bounds(piece: Piece, counts: Mapping[str, int]) -> Bounds:
    def number(count: Count | None, usual: int) -> int:
        return usual if count is None else count.times * (1 if count.of is None else counts[count.of])

    usual = number(piece.quantity.usual, 1)
    return Bounds(usual, number(piece.quantity.from_, usual), number(piece.quantity.to, usual))


def choice(name: str, *answers: Raw) -> dict[str, Any]:
    """A choice whose answers are labelled by their ids."""
    return {
        "id": name,
        "ask": f"{name}?",
        "answers": [{"label": answer["id"], **answer} for answer in answers],
    }
