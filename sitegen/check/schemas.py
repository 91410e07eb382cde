"""JSON Schemas of the files a florist writes (draft 2020-12), for editors that complete keys and mark faults.

Made from the same shapes that `check` reads with. Defaults are shown as she would write them. What only
`check` can know (names that must exist, one of two lines) is not in them.
"""

from typing import Any

from pydantic.json_schema import GenerateJsonSchema, JsonSchemaValue

from sitegen.check.written import written
from sitegen.model.catalogue import Good, InHand, Stem, Supplier
from sitegen.model.event import Event
from sitegen.model.fields import Shape
from sitegen.model.piece import Piece
from sitegen.model.publish import Publish
from sitegen.model.terms import Studio

DRAFT = "https://json-schema.org/draft/2020-12/schema"
_ONE: dict[str, tuple[type[Shape], str]] = {
    "studio": (Studio, "studio.md, front matter"),
    "event": (Event, "event.md, front matter"),
    "piece": (Piece, "a piece, front matter"),
    "publish": (Publish, "publish.yaml"),
}
_MANY: dict[str, tuple[type[Shape], str]] = {
    "stems": (Stem, "stems.yaml"),
    "goods": (Good, "goods.yaml"),
    "suppliers": (Supplier, "suppliers.yaml"),
    "stock": (InHand, "stock.yaml"),
}


def schemas() -> dict[str, dict[str, Any]]:
    """Give a schema for each kind of file, by the name of the schema's own file."""
    made = {name: _titled(_schema(kind), title) for name, (kind, title) in _ONE.items()}
    made |= {name: _titled(_records(_schema(kind), kind), title) for name, (kind, title) in _MANY.items()}
    return {f"{name}.schema.json": made[name] for name in sorted(made)}


def _titled(schema: JsonSchemaValue, title: str) -> dict[str, Any]:
    return {"$schema": DRAFT, **schema, "title": title}


def _schema(kind: type[Shape]) -> JsonSchemaValue:
    return kind.model_json_schema(by_alias=True, schema_generator=_AsWritten)


def _records(schema: JsonSchemaValue, kind: type[Shape]) -> JsonSchemaValue:
    """A file of many records, each under a short name of its own."""
    inner = dict(schema)
    parts = {**inner.pop("$defs", {}), kind.__name__: inner}
    return {
        "$defs": parts,
        "type": "object",
        "description": f"Each by a short name: {kind.__doc__}",
        "propertyNames": {"pattern": r"^[^\W_][\w.-]{0,63}$"},
        "additionalProperties": {"$ref": f"#/$defs/{kind.__name__}"},
    }


class _AsWritten(GenerateJsonSchema):
    """Shows defaults as text of the files, and where one text stands for a record with one line."""

    def default_schema(self, schema: Any) -> JsonSchemaValue:
        inner = self.generate_inner(schema["schema"])
        default = {} if "default_factory" in schema else schema.get("default")
        text = written(default, percent=inner.get("pattern") == "%$")
        return inner if text in (None, "") else {**inner, "default": text}

    def function_before_schema(self, schema: Any) -> JsonSchemaValue:
        inner = self.generate_inner(schema["schema"])
        return {"anyOf": [{"type": ["string", "integer"]}, inner]}
