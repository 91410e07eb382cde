"""Values as a florist would write them in a file."""

from fractions import Fraction
from typing import Any

from sitegen.model.fields import Shape
from sitegen.model.piece import Bench, Count
from sitegen.values.number import decimal_text
from sitegen.values.when import WEEKDAYS, Span

Written = str | int | list[Any] | dict[str, Any] | None


def written(value: Any, *, percent: bool = False) -> Written:
    """Give *value*, the default of a field, as the text that reads as it; None for nothing."""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if value is None or isinstance(value, str | int | dict):
        return value
    if isinstance(value, tuple):
        return [written(item) for item in value]
    if isinstance(value, Shape):
        return _record(value)
    return _of_a_kind(value, percent=percent)


def _of_a_kind(value: Any, *, percent: bool) -> str | int:
    match value:
        case Fraction():
            return f"{decimal_text(value * 100)}%" if percent else _number(value)
        case frozenset():
            return " ".join(WEEKDAYS[day] for day in sorted(value))
        case Span(least, most):
            return str(least) if most is None else f"{least}-{most}"
        case Bench():
            return _bench(value)
        case Count(times, of):
            return times if of is None else f"{times} x {of}"
    raise TypeError(f"nothing says how a default of {type(value).__name__} is written")


def _number(value: Fraction) -> str | int:
    return int(value) if value.denominator == 1 else decimal_text(value)


def _record(value: Shape) -> dict[str, Any]:
    fields = type(value).model_fields
    pairs = {info.alias or name: written(getattr(value, name)) for name, info in fields.items()}
    return {name: text for name, text in pairs.items() if text is not None}


def _bench(value: Bench) -> str:
    if value.on_site:
        return "on-site"
    return {0: "same-day", 1: "day-before"}.get(value.days_before, str(value.days_before))
