"""Fits of forty pieces against another solver.

Outside check: scipy.optimize.milp (HiGHS behind SciPy's own modelling) solves the same choice, written down a
second time, where the total is straight: prices that hold their tax, no discount, no charges.
"""

from random import Random

import numpy as np
import pytest
from scipy.optimize import Bounds, LinearConstraint, milp

from sitegen.choices.picks import usual_picks
from sitegen.choices.table import Table, TablePiece
from sitegen.choices.totals import totals
from sitegen.fit.fit import fit
from sitegen.fit.ways import Matter
from tests.fit.drawn import all_picks, measured

Way = tuple[int, int, int]


def event(seed: int, count: int) -> tuple[Table, tuple[Matter, ...]]:
    """An invented event with *count* pieces of two choices, at whole amounts of money."""
    chance = Random(seed)
    pieces, matters = [], []
    for at in range(count):
        each = tuple(100 * chance.randint(20, 180) for _ in range(6))
        usual, quantity = (chance.randrange(3), chance.randrange(2)), chance.choice((1, 1, 4, 8))
        least, optional = max(1, quantity - 2), chance.random() < 0.4
        pieces.append(
            TablePiece(f"p{at}", (3, 2), usual, each, quantity, least, quantity + 1, optional, taxable=True)
        )
        matters.append(Matter(chance.randint(1, 5), (chance.randint(1, 5), chance.randint(1, 5))))
    plain = Table(2, tuple(pieces), (), None, (), included=True, per_line=False, payments=(None,))
    return plain, tuple(matters)


def ways(table: Table, matters: tuple[Matter, ...]) -> list[list[Way]]:
    """Every way of each piece alone, as kept, changes and line."""
    found = []
    for piece, matter in zip(table.pieces, matters, strict=True):
        alone = Table(2, (piece,), (), None, (), included=True, per_line=False, payments=(None,))
        picks = all_picks(alone, frozenset())
        found.append([(*measured(alone, (matter,), one), totals(alone, one).total) for one in picks])
    return found


def reference(every: list[list[Way]], budget: int) -> tuple[int, int, int]:
    """Kept, changes and total of the best, by one goal after the other."""
    flat = np.array([way for ways in every for way in ways])
    kept, changes, lines = flat.T
    owner = np.repeat(np.arange(len(every)), [len(ways) for ways in every])
    rules = [
        LinearConstraint(owner == np.arange(len(every))[:, None], 1, 1),
        LinearConstraint(lines, 0, budget),
    ]
    reached = []
    for goal, sign in ((kept, -1), (changes, 1), (lines, -1)):
        done = milp(sign * goal, constraints=rules, integrality=np.ones(len(flat)), bounds=Bounds(0, 1))
        assert done.success
        value = round(float(goal @ np.round(done.x)))
        rules.append(LinearConstraint(goal, value, value))
        reached.append(value)
    return reached[0], reached[1], reached[2]


@pytest.mark.parametrize(("seed", "count", "percent"), [(1, 40, 95), (2, 40, 80), (3, 12, 70), (4, 25, 60)])
def test_another_solver_keeps_as_much(seed: int, count: int, percent: int) -> None:
    table, matters = event(seed, count)
    usual = totals(table, usual_picks(table)).total
    budget = usual * percent // 100
    found = fit(table, matters, frozenset(), budget).fit
    assert found is not None
    kept, changes, total = reference(ways(table, matters), budget)
    assert (found.kept, len(found.given_up), found.total) == (kept, changes, total)
    assert found.proven
