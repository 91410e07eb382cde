"""What trying sets of suppliers left open, as integer programs: minimums against fees and whole packs."""

from dataclasses import replace
from math import ceil

from sitegen.order.buying.cover import cover_of
from sitegen.order.buying.draft import Draft, draft
from sitegen.order.buying.plans import Plan, plan
from sitegen.order.buying.scaled import cost_of
from sitegen.order.buying.sets import Tried
from sitegen.order.buying.ways import Ways
from sitegen.solve.program import Program, Terms, worth
from sitegen.solve.solve import solve

_WORK = 600_000  # nodes times variables: a few seconds
_WORK_FOR_TIES = 60_000  # a tie is no money: where so many cost the same, the best of a shorter look is taken


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
    for_cost = goals[0] is drafted.cost
    nodes = (_WORK if for_cost else _WORK_FOR_TIES) // len(drafted.ranges)
    answer = solve(program, start=drafted.start, nodes=max(nodes, 10))
    if answer is None:
        raise ValueError("a plan that fits was said not to")
    counts = [[0] * len(line.packs) for line in ways.asked.lines]
    for at, k, variable in drafted.packs:
        counts[at][k] += answer.values[variable]
    covers = (cover_of(line, tuple(row)) for line, row in zip(ways.asked.lines, counts, strict=True))
    other = plan(ways.asked, tuple(covers))
    return min(other, best, key=lambda one: one.key), ceil(answer.gap)


def _ties(ways: Ways, drafted: Draft) -> tuple[Terms, ...]:
    """The fewest spare stems, then the fewest packs, then the first of the catalogue, in one goal."""
    goals: tuple[dict[int, int], ...] = ({}, {}, {})
    for at, k, variable in drafted.packs:
        pack = ways.asked.lines[at].packs[k]
        stem = pack.lot.thing.kind == "stem"
        for goal, count in zip(goals, (pack.size * stem, 1, pack.lot.index), strict=True):
            goal[variable] = count
    stems, packs, places = goals
    # Twice what was bought so far is room enough for the lesser goals, so that one stem outweighs them.
    most_packs, most_places = (1 + 2 * worth(goal, drafted.start) for goal in (packs, places))
    return ({one: (n * most_packs + packs[one]) * most_places + places[one] for one, n in stems.items()},)
