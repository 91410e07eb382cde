"""Integer programs against trying everything, and against SciPy's own front end to an integer solver."""

from collections.abc import Iterator
from fractions import Fraction
from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import Bounds, LinearConstraint, milp

from sitegen.solve import solve as solving
from sitegen.solve.engine import End, Found, Task
from sitegen.solve.program import Amount, Program, Rule, Terms, fits, whole, whole_rule, worth
from sitegen.solve.solve import Answer, Unsolved, solve

AMOUNTS = st.one_of(st.integers(-9, 9), st.fractions(-5, 5, max_denominator=6))


@st.composite
def programs(draw: st.DrawFn) -> Program:
    """At most four variables, so that everything can be tried."""
    ranges = draw(
        st.lists(st.tuples(st.integers(-2, 1), st.integers(1, 4)), min_size=1, max_size=4).map(tuple)
    )
    terms = st.dictionaries(st.integers(0, len(ranges) - 1), AMOUNTS, min_size=1)
    side = st.one_of(st.none(), st.integers(-12, 12))
    rules = draw(st.lists(st.builds(Rule, terms, least=side, most=side), max_size=3).map(tuple))
    return Program(ranges, rules, draw(st.lists(terms, min_size=1, max_size=3).map(tuple)))


def everything(program: Program) -> Iterator[tuple[int, ...]]:
    every = product(*(range(low, high + 1) for low, high in program.ranges))
    return (values for values in every if fits(program, values))


@given(programs())
@settings(max_examples=80)
def test_the_least_in_every_goal_in_turn_is_found(program: Program) -> None:
    best = min(
        (tuple(worth(goal, values) for goal in program.goals) for values in everything(program)),
        default=None,
    )
    found = solve(program)
    if best is None:
        assert found is None
    else:
        assert found is not None
        assert found.proven
        assert fits(program, found.values)
        assert found.reached == best == tuple(worth(goal, found.values) for goal in program.goals)


@given(programs())
@settings(max_examples=40)
def test_scipy_agrees_on_the_first_goal(program: Program) -> None:
    """Outside check: scipy.optimize.milp reads the same program, written down a second time."""
    names = range(len(program.ranges))
    rows = [
        LinearConstraint(
            [float(rule.terms.get(i, 0)) for i in names],
            -9999 if rule.least is None else float(rule.least),
            9999 if rule.most is None else float(rule.most),
        )
        for rule in program.rules
    ]
    theirs = milp(
        [float(program.goals[0].get(i, 0)) for i in names],
        constraints=rows,
        integrality=[1] * len(names),
        bounds=Bounds([low for low, _ in program.ranges], [high for _, high in program.ranges]),
    )
    ours = solve(Program(program.ranges, program.rules, program.goals[:1]))
    assert (ours is None) == (theirs.status == 2)
    if ours is not None:
        assert float(ours.reached[0]) == pytest.approx(theirs.fun, abs=1e-6)


def test_thirds_are_exact() -> None:
    """Three thirds make a whole, where sums of floats may not."""
    third = Fraction(1, 3)
    program = Program(
        ((0, 9),) * 3, (Rule({0: third, 1: third, 2: third}, least=1, most=1),), ({0: 1}, {1: 1})
    )
    found = solve(program)
    assert found is not None
    assert found.values == (0, 0, 3)


@pytest.mark.parametrize(
    ("terms", "least", "most", "ints", "ends"),
    [
        ({0: Fraction(1, 2), 1: Fraction(2, 3)}, 1, 2, ((0, 3), (1, 4)), (6, 12)),
        ({0: 10, 1: 20}, 15, 39, ((0, 1), (1, 2)), (2, 3)),
        ({0: 0}, None, 0, (), (None, 0)),
    ],
)
def test_rules_are_scaled_and_drawn_in_to_whole_numbers(
    terms: Terms, least: Amount, most: Amount, ints: object, ends: object
) -> None:
    scaled, *found = whole_rule(Rule(terms, least, most))
    assert scaled.terms == ints
    assert tuple(found) == ends


def test_nothing_asked_is_answered() -> None:
    assert solve(Program(())) == Answer((), ())
    assert solve(Program(((2, 2),), (), ({0: 3},))) == Answer((2,), (6,))
    assert solve(Program(((2, 2),), (Rule({0: 1}, most=1),))) is None


def test_a_start_that_does_not_fit_is_our_own_mistake() -> None:
    with pytest.raises(ValueError, match="start"):
        solve(Program(((0, 9),), (Rule({0: 1}, least=3),)), start=(2,))


KNAPSACK = Program(((0, 9), (0, 9)), (Rule({0: 5, 1: 3}, least=14),), ({0: 7, 1: 4},))


def test_what_does_not_hold_is_not_believed(monkeypatch: pytest.MonkeyPatch) -> None:
    """A solver that says "done" with values that break a rule is asked again, more strictly, then left."""
    asked: list[bool] = []

    def wrong(task: Task) -> Found:
        asked.append(task.strict)
        return Found(End.DONE, (0, 0), Fraction(0))

    monkeypatch.setattr(solving, "run", wrong)
    with pytest.raises(Unsolved):
        solve(KNAPSACK)
    assert asked == [False, True]
    kept = solve(KNAPSACK, start=(0, 5))
    assert kept == Answer((0, 5), (20,), proven=False, gap=Fraction(20))


def test_a_search_that_stops_early_says_its_gap(monkeypatch: pytest.MonkeyPatch) -> None:
    def early(_task: Task) -> Found:
        return Found(End.STOPPED, (4, 0), Fraction(37, 2))

    monkeypatch.setattr(solving, "run", early)
    assert solve(KNAPSACK) == Answer((4, 0), (28,), proven=False, gap=Fraction(19, 2))
    kept = solve(KNAPSACK, start=(1, 3))
    assert kept is not None
    assert (kept.values, kept.reached) == ((1, 3), (19,))
    assert kept.proven  # no whole number lies between 18.5 and 19


def test_a_bound_that_is_too_coarse_proves_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    huge = Program(KNAPSACK.ranges, KNAPSACK.rules, ({0: 7 * 10**12 + 1, 1: 4 * 10**12},))

    def coarse(_task: Task) -> Found:
        return Found(End.DONE, (1, 3), Fraction(19 * 10**12 + 1))

    monkeypatch.setattr(solving, "run", coarse)
    found = solve(huge)
    assert found is not None
    assert not found.proven


def test_goals_keep_their_unit() -> None:
    found = solve(Program(KNAPSACK.ranges, KNAPSACK.rules, ({0: Fraction(7, 100), 1: Fraction(4, 100)},)))
    assert found is not None
    assert found.reached == (Fraction(19, 100),)
    assert whole({0: Fraction(7, 100), 1: Fraction(4, 100)}).factor == 100
