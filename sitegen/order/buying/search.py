"""What trying sets of suppliers left open, as integer programs: minimums against fees and whole packs."""

from dataclasses import replace
from math import ceil

from sitegen.order.buying.cover import cover_of
from sitegen.order.buying.draft import Draft, draft
from sitegen.order.buying.plans import Plan, plan
from sitegen.order.buying.scaled import cost_of
from sitegen.order.buying.sets import Tried
from sitegen.order.buying.ways import Ways
from sitegen.solve.program import Program, Terms
from sitegen.solve.solve import solve

_NODES = 20_000
_NODES_FOR_TIES = 50  # a tie is no money: where so many cost the same, the best of a short look is taken


def searched(ways: Ways, found: Tried) -> tuple[Plan, int]:
    """Give the best plan of all, and by how much the cost could at most be lower: 0 where that is proven.

    First for the cost alone; what costs no more is then few enough to settle ties among.
    """
    drafted = draft(ways, found)
    best, gap = _solved(ways, found.best, drafted, (drafted.cost,))
    if gap:
        return best, gap
    cost = cost_of(best.key)
    left = tuple((sellers, key) for sellers, key in found.open if cost_of(key) <= cost)
    drafted = draft(ways, replace(found, best=best, open=left, least=cost))
    return _solved(ways, best, drafted, _ties(ways, drafted))[0], 0


def _solved(ways: Ways, best: Plan, drafted: Draft, goals: tuple[Terms, ...]) -> tuple[Plan, int]:
    program = Program(tuple(drafted.ranges), tuple(drafted.rules), goals)
    nodes = _NODES if goals[0] is drafted.cost else _NODES_FOR_TIES
    answer = solve(program, start=drafted.start, nodes=nodes)
    if answer is None:
        raise ValueError("a plan that fits was said not to")
    counts = [[0] * len(line.packs) for line in ways.asked.lines]
    for at, k, variable in drafted.packs:
        counts[at][k] += answer.values[variable]
    covers = (cover_of(line, tuple(row)) for line, row in zip(ways.asked.lines, counts, strict=True))
    other = plan(ways.asked, tuple(covers))
    return min(other, best, key=lambda one: one.key), ceil(answer.gap)


def _ties(ways: Ways, drafted: Draft) -> tuple[Terms, ...]:
    """The fewest spare stems; of those the fewest packs, and then the first of the catalogue."""
    stems: dict[int, int] = {}
    places: dict[int, int] = {}
    for at, k, variable in drafted.packs:
        pack = ways.asked.lines[at].packs[k]
        places[variable] = pack.lot.index
        if pack.lot.thing.kind == "stem":
            stems[variable] = pack.size
    most = 1 + sum(place * drafted.ranges[variable][1] for variable, place in places.items())
    return (stems, {variable: most + place for variable, place in places.items()})
