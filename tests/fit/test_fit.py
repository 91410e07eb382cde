"""A fit against every way a small proposal can stand."""

from hypothesis import given, settings
from hypothesis import strategies as st

from sitegen.choices.picks import Picks, usual_picks
from sitegen.choices.table import Table
from sitegen.choices.totals import totals
from sitegen.fit.fit import Fit, fit
from sitegen.fit.ways import Matter
from tests.fit.drawn import all_picks, asked, measured, share_of

Asked = tuple[Table, tuple[Matter, ...], frozenset[int]]
Known = tuple[int, int, int]


def known(asked: Asked) -> list[Known]:
    """All there is, as kept, changes and total."""
    table, matters, charges = asked
    return [
        (*measured(table, matters, picks), totals(table, picks).total) for picks in all_picks(table, charges)
    ]


def best(every: list[Known], budget: int) -> Known | None:
    return max(
        ((kept, -changes, total) for kept, changes, total in every if total <= budget),
        default=None,
    )


def same(found: Fit | None, wanted: Known | None, asked: Asked) -> None:
    if found is None or wanted is None:
        assert found is None
        assert wanted is None
        return
    table, matters, _ = asked
    kept, changes = measured(table, matters, found.picks)
    total = totals(table, found.picks).total
    assert (kept, -changes, total) == wanted
    assert (found.kept, found.total, found.proven) == (kept, total, True)
    assert sum(one.weight for one in found.given_up) == found.matters - found.kept
    assert len(found.given_up) == changes


@settings(max_examples=60)
@given(asked(), st.integers(0, 1100))
def test_a_fit_is_the_best_there_is(asked: Asked, thousandths: int) -> None:
    table, matters, charges = asked
    usual = totals(table, Picks(usual_picks(table).pieces, charges)).total
    every, budget = known(asked), share_of(usual, thousandths)
    found = fit(table, matters, charges, budget)
    wanted = best(every, budget)
    same(found.fit, wanted, asked)
    least = min(total for _, _, total in every)
    if wanted is None:
        same(found.least, best(every, least), asked)
        return
    steps_up = [total for kept, _, total in every if kept > wanted[0]]
    same(found.more, best(every, min(steps_up)) if steps_up else None, asked)
    holds = min(total for kept, _, total in every if kept >= wanted[0])
    same(found.less, best(every, holds - 1), asked)
