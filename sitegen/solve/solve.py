"""The answer to an integer program, checked again in whole numbers.

The solver below works in floats. So what it finds is rounded and held against
every rule exactly; and since goals are scaled to whole numbers without a common
divisor, its bound proves an answer only where nothing whole fits between them.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from sitegen.solve.engine import End, Found, Task, run
from sitegen.solve.program import Amount, Program, Rule, Whole, fits, largest, whole, whole_rule, worth

NODES = 50_000
_TOO_LARGE = 10**10  # above it a float bound is not fine enough to tell whole numbers apart
_NEAR = Fraction(3, 4)  # of a unit: half for the search, a quarter for the bound's rounding


class Unsolved(Exception):
    """No answer was found, and none was ruled out. Never raised for who gives a start."""


@dataclass(frozen=True, slots=True)
class Answer:
    """Values that hold every rule, what they reach of each goal, and whether that is proven the least.

    *gap* is by how much the first goal that is not proven could at most be
    lower; goals after it were not looked at. It is 0 where all is proven.
    """

    values: tuple[int, ...]
    reached: tuple[Amount, ...]
    proven: bool = True
    gap: Fraction = Fraction(0)


def solve(program: Program, start: Sequence[int] | None = None, nodes: int = NODES) -> Answer | None:
    """Give the values that reach the least of each goal in turn; None where nothing fits.

    *start* are values that are known to fit; they shorten the search, and are
    the answer where it ends without one. *nodes* limits the search for each
    goal; the same program always gets the same answer. That nothing fits is
    the solver's word, everything else is checked exactly. Where several values
    reach the same in every goal, which of them is given is not promised: add a
    last goal that tells them apart.

    Raises `Unsolved` where the limit came first and no start was given.

    >>> solve(Program(ranges=((0, 9), (0, 9)), rules=(Rule({0: 5, 1: 3}, least=14),), goals=({0: 7, 1: 4},)))
    Answer(values=(1, 3), reached=(19,), proven=True, gap=Fraction(0, 1))
    """
    if start is not None and not fits(program, start):
        raise ValueError("the start does not hold the rules")
    known = None if start is None else tuple(start)
    reached = program
    for goal in program.goals or ({},):
        scaled = whole(goal)
        found = _search(reached, scaled, known, nodes)
        known = known if found.values is None else found.values
        if known is None:
            if found.end is End.IMPOSSIBLE:
                return None
            raise Unsolved
        gap = _gap(reached, scaled, known, found)
        if gap:
            return _answer(program, known, gap / scaled.factor)
        reached = replace(reached, rules=(*reached.rules, Rule(goal, most=worth(goal, known))))
    return _answer(program, known or (), Fraction(0))


def _answer(program: Program, values: tuple[int, ...], gap: Fraction) -> Answer:
    return Answer(values, tuple(worth(goal, values) for goal in program.goals), not gap, gap)


def _search(program: Program, goal: Whole, known: tuple[int, ...] | None, nodes: int) -> Found:
    """Search once, and where what came back does not hold exactly, once more with less tolerance."""
    if all(low == high for low, high in program.ranges):
        return _fixed(program, goal)
    scaled = [(one.terms, least, most) for one, least, most in map(whole_rule, program.rules)]
    found = Found(End.STOPPED, None, None)
    for strict in (False, True):
        found = run(Task(program.ranges, scaled, goal.terms, known, nodes, strict))
        if found.values is not None and fits(program, found.values):
            return _better(found, goal, known)
        if found.end is End.IMPOSSIBLE and known is None:
            return found
    return Found(End.STOPPED, known, None)


def _fixed(program: Program, goal: Whole) -> Found:
    values = tuple(low for low, _ in program.ranges)
    if not fits(program, values):
        return Found(End.IMPOSSIBLE, None, None)
    return Found(End.DONE, values, Fraction(worth(dict(goal.terms), values)))


def _better(found: Found, goal: Whole, known: tuple[int, ...] | None) -> Found:
    """Keep what was known where the search, stopped early, ended with worse."""
    terms = dict(goal.terms)
    if found.values is None or known is None or worth(terms, found.values) <= worth(terms, known):
        return found
    return replace(found, values=known)


def _gap(program: Program, goal: Whole, values: tuple[int, ...], found: Found) -> Fraction:
    """Give by how much the goal could still be lower, in its scaled units; 0 where nothing whole is left.

    Without any bound, or with numbers too large for one, all that the ranges allow is open.
    """
    value = worth(dict(goal.terms), values)
    least = sum(count * program.ranges[i][0 if count > 0 else 1] for i, count in goal.terms)
    fine = largest([*(n for _, n in goal.terms), int(value)]) <= _TOO_LARGE
    if value == least or (fine and found.bound is not None and value - found.bound < _NEAR):
        return Fraction(0)
    if found.bound is None:
        return Fraction(value - least)
    return max(Fraction(1), Fraction(value) - found.bound)
