"""Frozen records to plain JSON and back, exactly.

Fractions are text (`7`, `2/3`), lengths keep their unit (`1/2 yd`), days and times are ISO 8601; no
binary float is written or read. A field that has its default is not written, so that a field which is added
later reads as its default from older records.
"""

import datetime as dt
import re
from collections.abc import Callable, Mapping
from dataclasses import MISSING, Field, fields, is_dataclass
from fractions import Fraction
from functools import lru_cache
from types import NoneType, UnionType
from typing import Any, TypeVar, Union, get_args, get_origin, get_type_hints

from sitegen.values.length import METRES, Length

T = TypeVar("T")
_RATIO = re.compile(r"-?[0-9]{1,400}(?:/[1-9][0-9]{0,399})?", re.ASCII)


class Misfit(ValueError):
    """Plain data that are not what they should be; the text says where and what."""


def plain(value: object) -> Any:
    """Give *value*, a frozen dataclass or a part of one, as plain data for JSON."""
    if isinstance(value, bool | int | str | NoneType):
        return value
    for kind, write in _WRITERS:
        if isinstance(value, kind):
            return write(value)
    if is_dataclass(value) and not isinstance(value, type):
        shown = ((field, getattr(value, field.name)) for field in fields(value))
        return {field.name: plain(one) for field, one in shown if not _is_default(field, one)}
    raise TypeError(f"{type(value).__name__} has no plain form")


def _is_default(field: "Field[Any]", value: object) -> bool:
    return field.default is not MISSING and type(value) is type(field.default) and value == field.default


_WRITERS: tuple[tuple[type[Any], Callable[[Any], Any]], ...] = (
    (Fraction, str),
    (Length, lambda length: f"{length.amount} {length.unit}"),
    (dt.date, lambda day: day.isoformat()),  # moments too
    (dt.time, lambda time: time.isoformat()),
    (tuple, lambda many: [plain(one) for one in many]),
    (frozenset, lambda many: [plain(one) for one in sorted(many)]),
    (Mapping, lambda many: {str(key): plain(one) for key, one in many.items()}),
    (list, lambda many: [plain(one) for one in many]),
)


def restore(kind: type[T], data: Any, where: str = "") -> T:
    """Take back what `plain` gave of a *kind*. Raises `Misfit` for anything else."""
    value: T = _restore(kind, data, where or kind.__name__)
    return value


def _restore(kind: Any, data: Any, where: str) -> Any:
    if kind in _READERS:
        return _READERS[kind](data, where)
    origin = get_origin(kind)
    if origin in {Union, UnionType}:
        return None if data is None else _restore(_one_of(kind), data, where)
    if origin in {tuple, frozenset}:
        many = _many(kind, data, where)
        return many if origin is tuple else frozenset(many)
    if is_dataclass(kind):
        return _record(kind, data, where)
    raise TypeError(f"{kind} cannot be restored")


def _one_of(kind: Any) -> Any:
    """The one kind beside None."""
    (one,) = (part for part in get_args(kind) if part is not NoneType)
    return one


def _many(kind: Any, data: Any, where: str) -> tuple[Any, ...]:
    if not isinstance(data, list):
        raise Misfit(f"{where} is no list")
    kinds = get_args(kind)
    if len(kinds) == 1 or kinds[-1] is Ellipsis:
        return tuple(_restore(kinds[0], one, f"{where}[{i}]") for i, one in enumerate(data))
    if len(kinds) != len(data):
        raise Misfit(f"{where} does not have {len(kinds)} parts")
    pairs = zip(kinds, data, strict=True)
    return tuple(_restore(part, one, f"{where}[{i}]") for i, (part, one) in enumerate(pairs))


def _record(kind: Any, data: Any, where: str) -> Any:
    if not isinstance(data, dict):
        raise Misfit(f"{where} is no record")
    known = _fields(kind)
    unknown = [key for key in data if key not in known]
    if unknown:
        raise Misfit(f"{where} has the unknown field {unknown[0]!r}")
    lacking = [name for name, (_, needed) in known.items() if needed and name not in data]
    if lacking:
        raise Misfit(f"{where} lacks {lacking[0]!r}")
    return kind(**{key: _restore(known[key][0], one, f"{where}.{key}") for key, one in data.items()})


@lru_cache(maxsize=64)
def _fields(kind: Any) -> dict[str, tuple[Any, bool]]:
    """Each field's kind, and whether it must be there."""
    hints = get_type_hints(kind)
    return {field.name: (hints[field.name], field.default is MISSING) for field in fields(kind)}


def _exactly(kind: type[Any]) -> Callable[[Any, str], Any]:
    def read(data: Any, where: str) -> Any:
        if type(data) is not kind:
            raise Misfit(f"{where} is no {kind.__name__}")
        return data

    return read


def _text(parse: Callable[[str], Any], what: str) -> Callable[[Any, str], Any]:
    def read(data: Any, where: str) -> Any:
        try:
            return parse(_exactly(str)(data, where))
        except Misfit:
            raise
        except ValueError:
            raise Misfit(f"{where} is no {what}") from None

    return read


def _ratio(text: str) -> Fraction:
    if not _RATIO.fullmatch(text):
        raise ValueError(text)
    return Fraction(text)


def _length(text: str) -> Length:
    amount, _, unit = text.partition(" ")
    if unit not in METRES:
        raise ValueError(text)
    return Length(_ratio(amount), unit)


def _amount(text: str) -> Fraction | Length:
    return _length(text) if " " in text else _ratio(text)


def _day(text: str) -> dt.date:
    """A day, or a moment where a time stands with it."""
    return dt.datetime.fromisoformat(text) if "T" in text else dt.date.fromisoformat(text)


_READERS: dict[Any, Callable[[Any, str], Any]] = {
    Any: lambda data, _: data,
    bool: _exactly(bool),
    int: _exactly(int),
    str: _exactly(str),
    Fraction: _text(_ratio, "number"),
    Length: _text(_length, "length"),
    Fraction | Length: _text(_amount, "number or length"),
    dt.date: _text(_day, "day"),
    dt.time: _text(dt.time.fromisoformat, "time of day"),
}
