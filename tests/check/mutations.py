"""Sound content files with one or more things changed in them, for laws that must hold for any content."""

import json
import re
from typing import Any

from hypothesis import strategies as st

from sitegen.load.front import split
from sitegen.load.nodes import read
from sitegen.values.node import plain
from sitegen.values.source import Source
from tests.check.folder import FILES

# What a florist types, and what nobody does: each may stand anywhere.
TEXTS = (
    "", " ", "-", "~", "0", "1", "-1", "2.5", "2/3", "1/0", "999999999999", "0.000001", "4,10", "1e9", "٣",
    "12%", "100%", "250%", "12", "yes", "no", "rose", "fern", "cup", "ribbon", "barn", "tables", "farm", "lily",
    "3 x tables", "0.5 bunch", "1 yd", "0 m", "12 parsec", "2031-06-14", "2001-01-01", "2199-12-31", "2031-02-30",
    "14:30", "24:00", "2031-06-14 12:00", "30 days", "28 days before", "9999 days before", "2-4", "4-2", "Apr-Oct",
    "Nov-Feb", "Jnue", "Mon-Fri", "approval", "on-site", "same-day", "#e6c3b8", "#E6C3B8", "#fff", "JPY", "BHD",
    "XXX", "fr-FR", "en", "art-x-y", "a4", "foliage", "couple", "north-window", "../x", "a\nb", "\u202e", "\x00",
    "<script>alert(1)</script>", "{{ 7 * 7 }}", "%s", "é" * 70, "\U00010640",
)  # fmt: skip
KEYS = (
    "id", "name", "label", "usual", "recipe", "goods", "rose", "fern", "ribbon", "cup", "price", "amount", "percent",
    "add", "minutes", "swap", "optional", "extra", "quantity", "from", "to", "least", "discount", "tax", "rates",
    "rate", "included", "rounding", "payments", "labour", "of_price", "on_materials", "round", "how", "loss",
    "loss_in_price", "taxable", "made_by", "bundle", "boxes", "length", "photos", "file", "avoid", "swaps", "each",
    "stems", "pieces", "until", "mix", "hire", "packs", "months", "bunch", "<<", "", "no such line",
)  # fmt: skip
Plain = Any


def parsed(name: str) -> Plain:
    """The YAML of one of the sound files, as plain lists, dicts and texts."""
    source = Source(name, FILES[name])
    if name.endswith(".md"):
        document, _ = split(source)
        assert document is not None
        return plain(document.front)
    node, _ = read(source)
    assert node is not None
    return plain(node)


def written(name: str, data: Plain) -> str:
    """The file again, in flow style with every text in quotes."""
    text = json.dumps(data, ensure_ascii=False)
    return f"---\n{text}\n---\nWords.\n" if name.endswith(".md") else f"{text}\n"


PIECES = [parsed(name) for name in FILES]
VALUES = st.recursive(
    st.sampled_from(TEXTS) | st.text(max_size=6),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.sampled_from(KEYS), inner, max_size=3),
    max_leaves=4,
)


def _spots(data: Plain) -> list[tuple[Any, Any]]:
    """Every holder in *data* with a key or index of it."""
    if isinstance(data, str):
        return []
    pairs = list(data.items()) if isinstance(data, dict) else list(enumerate(data))
    return [(data, key) for key, _ in pairs] + [spot for _, value in pairs for spot in _spots(value)]


@st.composite
def changed_files(draw: st.DrawFn, most: int = 4) -> dict[str, str]:
    """The sound folder with one change in its lines, or up to *most*."""
    data = {name: parsed(name) for name in FILES}
    for _ in range(draw(st.integers(1, most))):
        name = draw(st.sampled_from(sorted(data)))
        spots = _spots(data[name])
        if spots:
            _change(draw, *draw(st.sampled_from(spots)))
    return {name: written(name, value) for name, value in data.items()}


def _change(draw: st.DrawFn, holder: Any, key: Any) -> None:
    how = draw(st.sampled_from(("value", "value", "value", "remove", "add", "rename", "wrap")))
    if how == "value":
        holder[key] = draw(VALUES)
    elif how == "remove":
        del holder[key]
    elif how == "wrap":
        holder[key] = draw(st.sampled_from(([holder[key]], {"id": holder[key]}, [holder[key], holder[key]])))
    elif isinstance(holder, dict) and how == "add":
        holder[draw(st.sampled_from(KEYS))] = draw(VALUES)
    elif isinstance(holder, dict):
        holder[draw(st.sampled_from((*KEYS, *TEXTS)))] = holder.pop(key)


# Other texts of the same kind: what check lets pass far more often.
LIKE = (
    (r"[0-9]+(\.[0-9]+)?", ("0", "1", "3", "2/3", "1 2/3", "0.000001", "7.5", "999999999999", "999999999999.999999")),
    (r"[0-9.]+%", ("0%", "0.000001%", "33.333333%", "99.999999%", "100%", "250%", "999999999999%")),
    (r"[0-9.]+ (yd|in)", ("0 in", "0.000001 mm", "1/3 yd", "25 yd", "999999999999 m")),
    (r"[0-9]{4}-[0-9]{2}-[0-9]{2}", ("2001-01-01", "2031-06-14", "2032-02-29", "2199-12-31")),
    (r"[0-9]{2}:[0-9]{2}", ("00:00", "14:30", "23:59")),
    (r"yes|no", ("yes", "no")),
    (r"up|nearest", ("up", "nearest")),
    (r"form|foliage", ("line", "mass", "form", "filler", "foliage")),
    (r"[A-Z]{3}", ("USD", "JPY", "BHD", "XAF", "EUR")),
    (r"rose|fern", ("rose", "fern")),
    (r"[0-9]+ days before|approval", ("0 days before", "9999 days before", "approval", "2001-01-01")),
)  # fmt: skip


@st.composite
def likely_files(draw: st.DrawFn) -> dict[str, str]:
    """The sound folder with up to eight texts changed to others of their kind."""
    data = {name: parsed(name) for name in FILES}
    for _ in range(draw(st.integers(1, 8))):
        spots = [
            (holder, key, texts)
            for content in data.values()
            for holder, key in _spots(content)
            if isinstance(holder[key], str)
            for pattern, texts in LIKE
            if re.fullmatch(pattern, holder[key])
        ]
        holder, key, texts = draw(st.sampled_from(spots))
        holder[key] = draw(st.sampled_from(texts))
    return {name: written(name, value) for name, value in data.items()}
