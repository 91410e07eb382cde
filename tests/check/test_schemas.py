"""The JSON Schemas, against the published language of schemas (jsonschema's own copy of draft 2020-12) and the demo."""

import re
import warnings
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from sitegen.check.schemas import DRAFT, schemas
from sitegen.check.shape import shape
from sitegen.load.front import split
from sitegen.load.nodes import read
from sitegen.model.catalogue import Good, InHand, Stem, Supplier
from sitegen.model.event import Event
from sitegen.model.piece import Piece
from sitegen.model.terms import Studio
from sitegen.values.node import Plain, plain
from sitegen.values.source import Source

DEMO = Path(__file__).parents[2] / "content"
KINDS = {"studio": Studio, "event": Event, "piece": Piece}
RECORDS = {"stems": Stem, "goods": Good, "suppliers": Supplier, "stock": InHand}


def _files() -> list[tuple[str, Path]]:
    shared = [("studio", DEMO / "studio.md"), *((name, DEMO / f"{name}.yaml") for name in RECORDS)]
    events = [("event", path) for path in sorted(DEMO.glob("events/*/event.md"))]
    pieces = [("piece", path) for path in sorted(DEMO.glob("events/*/[0-9]*.md"))]
    return [*shared, *events, *pieces]


def _plain(path: Path) -> Plain:
    """The YAML of a file with every scalar as text."""
    source = Source(path.name, path.read_text(encoding="utf-8"))
    if path.suffix == ".md":
        document, problems = split(source)
        node = document.front if document else None
    else:
        node, problems = read(source)
    assert node is not None, problems
    return plain(node)


@cache
def _validator(name: str) -> Draft202012Validator:
    return Draft202012Validator(schemas()[f"{name}.schema.json"])


def test_each_kind_of_file_has_a_schema_of_the_draft() -> None:
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        made = schemas()
    assert set(made) == {f"{name}.schema.json" for name in (*KINDS, *RECORDS, "publish")}
    for schema in made.values():
        Draft202012Validator.check_schema(schema)
        assert schema["$schema"] == DRAFT == Draft202012Validator.META_SCHEMA["$id"]
        assert schema["title"]
        assert schema["description"]


@pytest.mark.parametrize(("name", "path"), _files(), ids=lambda value: str(value).removeprefix(f"{DEMO}/"))
def test_the_demo_fits_its_schemas(name: str, path: Path) -> None:
    faults = [f"{error.json_path}: {error.message}" for error in _validator(name).iter_errors(_plain(path))]
    assert faults == []


@pytest.mark.parametrize("name", [*KINDS, *RECORDS])
def test_an_unknown_key_does_not_fit(name: str) -> None:
    path = next(path for kind, path in _files() if kind == name)
    data = _plain(path)
    assert isinstance(data, dict)
    record = data if name in KINDS else next(iter(data.values()))
    assert isinstance(record, dict)
    assert _validator(name).is_valid(data)
    record["no-such-line"] = "1"
    assert not _validator(name).is_valid(data)


def test_a_missing_line_and_a_wrong_type_do_not_fit() -> None:
    stems = _validator("stems")
    offers: list[Any] = [{"supplier": "farm", "bunch": "10", "price": "4.10"}]
    stem = {"name": "A", "role": "form", "colour": "#aabbcc", "offers": offers}
    assert stems.is_valid({"a": stem})
    assert not stems.is_valid({"a": {key: value for key, value in stem.items() if key != "role"}})
    assert not stems.is_valid({"a": {**stem, "offers": "farm"}})
    assert not stems.is_valid({"a": {**stem, "role": "from"}})
    assert not stems.is_valid({"a b": stem})


def _defaults(schema: Any) -> list[tuple[str, Any]]:
    """Every line of a schema that shows a default."""
    if isinstance(schema, list):
        return [found for item in schema for found in _defaults(item)]
    if not isinstance(schema, dict):
        return []
    own = [
        (key, value["default"]) for key, value in schema.get("properties", {}).items() if "default" in value
    ]
    return own + [found for value in schema.values() for found in _defaults(value)]


def test_defaults_are_shown_as_they_are_written() -> None:
    made = schemas()
    shown = {name.partition(".")[0]: dict(_defaults(schema)) for name, schema in made.items()}
    assert shown["stems"] == {"mix": "no", "arrive": "2", "store": "cold", "cautions": [], "breaks": []}
    assert shown["piece"]["bench"] == "day-before"
    assert shown["piece"]["quantity"] == {"usual": 1}
    assert shown["piece"]["site"] == {"minutes": 0, "hands": 1}
    assert shown["suppliers"]["order_days"] == 0
    assert shown["goods"]["loss"] == "0%"
    assert shown["studio"]["loss"] == "0%"
    assert shown["studio"]["hours"] == 8
    assert shown["studio"]["show_stems"] == "counts"


def test_defaults_read_as_what_they_are_the_default_of() -> None:
    """A piece that says every default out loud is the piece that leaves them out."""
    lines = ["piece: A", "group: B", "recipe: {rose: 1}"]
    schema = schemas()["piece.schema.json"]["properties"]
    said = [f"{key}: {_flow(value['default'])}" for key, value in schema.items() if value.get("default")]
    assert said
    plainly, problems = shape(Piece, _node(lines))
    aloud, more = shape(Piece, _node([*lines, *said]))
    assert problems == more == []
    assert plainly == aloud


def _flow(value: Any) -> str:
    if isinstance(value, dict):
        return "{" + ", ".join(f"{key}: {_flow(inner)}" for key, inner in value.items()) + "}"
    return f"[{', '.join(map(_flow, value))}]" if isinstance(value, list) else str(value)


def _node(lines: list[str]) -> Any:
    node, problems = read(Source("piece.md", "\n".join(lines)))
    assert node is not None, problems
    return node


def test_where_the_site_goes_has_a_schema_too() -> None:
    """The demo has no publish.yaml; here is the README's."""
    readme = (DEMO.parent / "README.md").read_text(encoding="utf-8")
    text = re.search(r"```yaml\n(to: sftp.*?)```", readme, re.DOTALL)
    assert text
    node, problems = read(Source("publish.yaml", text[1]))
    assert node is not None, problems
    written = plain(node)
    assert _validator("publish").is_valid(written)
    assert isinstance(written, dict)
    for more in ({"pasword": "x"}, {"to": "ftp"}, {"sftp": {"host": "files.flowers.example"}}):
        assert not _validator("publish").is_valid({**written, **more}), more
