"""Enough problems of one kind of thing: a page pasted into a recipe is one mistake, not thousands."""

from collections.abc import Iterable
from itertools import islice

from sitegen.values.problem import Problem
from sitegen.values.source import Place

MOST = 200


def most(problems: Iterable[Problem]) -> list[Problem]:
    """Give the first 200, and one more that says where the rest begins; no further one is looked for."""
    found = list(islice(problems, MOST + 1))
    if len(found) <= MOST:
        return found
    rest = found[MOST].place
    what = f"more than {MOST} problems stand in this file"
    why = "So many have one cause, most likely a line above the first of them."
    fix = "mend the first ones and run it again; the rest is told then"
    return [*found[:MOST], Problem("problems-many", Place(rest.source, rest.start, rest.end), what, why, fix)]
