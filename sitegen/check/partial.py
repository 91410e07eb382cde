"""What can still be read of a record with faults, so that names in it are checked in the same run.

Never built and never shown: every record made here comes with a problem that stops the build.
"""

import datetime as dt
from collections.abc import Iterable
from typing import Any, TypeVar

from pydantic import ValidationError
from pydantic_core import ErrorDetails

from sitegen.model.fields import Shape
from sitegen.values.node import ABSENT, Path

S = TypeVar("S", bound=Shape)

NO_DAY = dt.date(2001, 1, 1)  # the first that a file can hold, and long over
_STAND_INS: dict[str, Any] = {
    "answers": [],
    "colour": "#000000",
    "contact": {},
    "date": NO_DAY.isoformat(),
    "offers": [],
    "role": "form",
}
_AMOUNTS = {("recipe",), ("goods",)}
_ROUNDS = 12


def partial(kind: type[S], data: Any, faults: Iterable[ErrorDetails]) -> S | None:
    """Read *data* again without what failed; what must be there is stood in for. Changes *data*."""
    tried: set[tuple[Path, bool]] = set()
    for _ in range(_ROUNDS):
        for fault in faults:
            location, lacks = _location(fault, tried)
            if not location:
                return None
            tried.add((location, lacks))
            _mend(data, location, fault, lacks=lacks)
        try:
            return kind.model_validate(data)
        except ValidationError as error:
            faults = error.errors(include_url=False, include_input=False)
    return None


def _location(fault: ErrorDetails, tried: set[tuple[Path, bool]]) -> tuple[Path, bool]:
    """Where to mend, and whether something lacks there; what did not help is tried one level up."""
    location: Path = tuple(step for step in fault["loc"] if step != "[key]")
    lacks = fault["type"] == "missing"
    while location and (location, lacks) in tried:
        location, lacks = location[:-1], False
    return location, lacks


def _mend(data: Any, location: Path, fault: ErrorDetails, *, lacks: bool) -> None:
    holder, last = data, location[-1]
    try:
        for step in location[:-1]:
            holder = holder[step]
    except (KeyError, IndexError, TypeError):
        return  # it went with something larger that was taken out
    if isinstance(holder, list) and isinstance(last, int) and last < len(holder):
        # Taking an item out would move the places of those behind it.
        name = isinstance(holder[last], str) and not fault["type"].startswith("model")
        holder[last] = ABSENT if name else {}
    elif isinstance(holder, dict) and lacks:
        holder[str(last)] = _STAND_INS.get(str(last), ABSENT)
    elif isinstance(holder, dict) and location[-2:-1] in _AMOUNTS and fault["loc"][-1] != "[key]":
        holder[str(last)] = "0"  # the name of the line is still good
    elif isinstance(holder, dict):
        holder.pop(str(last), None)
