"""A name that is used and stands nowhere: one message for all kinds of names."""

from collections.abc import Iterable

from sitegen.values.nearest import nearest
from sitegen.values.node import Map, place_at
from sitegen.values.number import shorten
from sitegen.values.problem import Problem
from sitegen.values.source import Place


def unknown(
    code: str, kind: str, name: str, place: Place, known: Map | Iterable[str], why: str, *, add: str = ""
) -> Problem:
    """Say that no *kind* is called *name*, with the nearest name that is known and where it stands.

    *add* says how one of that name is added, where that is no line beside the others.
    """
    names = list(known)
    near = nearest(name, names)
    if near is None:
        few = ", ".join(names[:8]) + (" …" if len(names) > 8 else "")
        adding = add or "add it"
        fix = f"write one of {few}, or {adding}" if names else adding
        return Problem(code, place, f'no {kind} is called "{shorten(name)}"', why, fix)
    related = ((f'"{near}"', place_at(known, (near,), key=True)),) if isinstance(known, Map) else ()
    fix = f'write "{near}", or {add or f"add the new {kind}"}'
    return Problem(code, place, f'no {kind} is called "{shorten(name)}"', why, fix, related=related)
