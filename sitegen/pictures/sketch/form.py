"""How a piece is built where it does not say so: by its form, its method, what holds it, and its group."""

import re
from collections.abc import Iterable, Iterator, Mapping
from fractions import Fraction
from typing import TypeAlias

from sitegen.model.content import Shared
from sitegen.model.piece import Piece
from sitegen.pictures.sketch.brief import Form
from sitegen.pictures.sketch.ware import Vessel
from sitegen.values.length import Length

Goods: TypeAlias = Mapping[str, Fraction | Length]

_METHODS: Mapping[str | None, Form] = {
    "hand-tied": "hand-tied",
    "wired": "boutonniere",
    "garland": "garland",
    "frame": "arch",
}
_BUILT: Mapping[Form, str] = {
    **dict.fromkeys(("low", "bud-vases", "upright"), "vase-built"),
    **{form: str(method) for method, form in _METHODS.items()},
}
_TABLES = "table|dinner|supper|lunch|breakfast|reception|bar"
_VESSELS: tuple[tuple[str, Vessel], ...] = (
    ("urn", "urn"),
    ("jug|pitcher|ewer|watering can", "jug"),
    ("basket|trug", "basket"),
    ("bowl|tray|dish|compote|cup|trough", "bowl"),
    ("glass vase|glass bottle|vase,? glass|jar", "glass"),
    ("vase|bottle|pot|vessel", "vase"),
)


def form_of(piece: Piece, vessel: Vessel | None) -> Form:
    """Give the form that a piece names, else the one that its method, its vessel and its group mean."""
    if piece.form is not None:
        return piece.form
    method = piece.build.method
    if method in _METHODS:
        return _METHODS[method]
    if vessel is not None or method == "vase-built":
        return "low" if vessel in {None, "bowl", "basket"} else "upright"
    return "low" if method is None and re.search(_TABLES, piece.group.lower()) else "hand-tied"


def method_of(piece: Piece, goods: Goods, shared: Shared) -> str:
    """Give the method that a piece names, else the one that its form means.

    Whatever is lent with it or has a mouth holds it, by whatever name.
    """
    if piece.build.method is not None:
        return piece.build.method
    used = at_first(piece, goods)
    vessel = vessel_in(names_of(used, shared))[0]
    if any(shared.goods[id_].hire is not None or shared.goods[id_].mouth for id_ in used):
        vessel = vessel or "vase"
    return _BUILT[form_of(piece, vessel)]


def at_first(piece: Piece, goods: Goods) -> Goods:
    """Give the goods that a piece is made with: not the vessel that waits for it at its second place."""
    waits = piece.second_place.vessel if piece.second_place else None
    return {id_: n for id_, n in goods.items() if id_ != waits or id_ in piece.goods}


def names_of(goods: Iterable[str], shared: Shared) -> Iterator[str]:
    """Give what each good is called, small letters, with its id."""
    return (f"{shared.goods[id_].name} {id_}".lower() for id_ in goods)


def vessel_in(held: Iterable[str]) -> tuple[Vessel | None, str]:
    """Find what holds the flowers among goods by what they are called, and which of them it is."""
    for name in held:
        for words, vessel in _VESSELS:
            if says(name, words):
                return vessel, name
    return None, ""


def says(name: str, words: str) -> bool:
    """Tell whether *name* has one of *words*, of which there may be several."""
    return re.search(rf"\b(?:{words})s?\b", name) is not None
