"""What holds for totals of any table and any picks."""

from dataclasses import replace
from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from sitegen.choices.effects import answer_effects
from sitegen.choices.picks import Picks
from sitegen.choices.table import Part, Table
from sitegen.choices.totals import totals
from tests.laws.drawn import shares, tables_and_picks, units


@given(tables_and_picks())
def test_all_parts_add_up(both: tuple[Table, Picks]) -> None:
    table, picks = both
    got = totals(table, picks)
    assert got.subtotal == sum(got.lines)
    charged = sum(amount for amount in got.charges if amount is not None)
    added = 0 if table.included else sum(got.tax)
    assert got.total == got.subtotal - got.discount + charged + added
    assert sum(got.payments) == got.total
    assert min((*got.payments, *got.tax, got.discount, got.total)) >= 0


@given(tables_and_picks())
def test_tax_is_within_half_a_unit_of_exact_for_each_time_it_is_rounded(both: tuple[Table, Picks]) -> None:
    table, picks = both
    got = totals(table, picks)
    rate = sum(table.rates, Fraction(0))
    exact = got.taxable * (rate / (1 + rate) if table.included else rate)
    times = len(table.pieces) + len(table.charges) if table.per_line else 1
    assert abs(sum(got.tax) - exact) <= Fraction(times, 2)


@given(tables_and_picks(), shares, shares)
def test_a_larger_discount_never_makes_a_larger_total(
    both: tuple[Table, Picks], one: Fraction, other: Fraction
) -> None:
    table, picks = both
    small, large = sorted((one, other))
    more = totals(replace(table, discount=Part(small, None)), picks)
    less = totals(replace(table, discount=Part(large, None)), picks)
    assert less.discount >= more.discount
    assert less.taxable <= more.taxable
    assert less.total <= more.total


@given(tables_and_picks(), units, units)
def test_a_larger_fixed_discount_never_makes_a_larger_total(
    both: tuple[Table, Picks], one: int, other: int
) -> None:
    table, picks = both
    small, large = sorted((one, other))
    more = totals(replace(table, discount=Part(None, small)), picks)
    less = totals(replace(table, discount=Part(None, large)), picks)
    assert less.total <= more.total


@given(tables_and_picks(), shares, shares)
def test_a_higher_rate_never_makes_less_tax(
    both: tuple[Table, Picks], one: Fraction, other: Fraction
) -> None:
    table, picks = both
    low, high = sorted((one, other))
    less = totals(replace(table, rates=(low,)), picks)
    more = totals(replace(table, rates=(high,)), picks)
    assert more.tax[0] >= less.tax[0]
    assert more.total >= less.total


@given(tables_and_picks())
def test_rates_are_split_of_what_they_make_together(both: tuple[Table, Picks]) -> None:
    table, picks = both
    together = replace(table, rates=(sum(table.rates, Fraction(0)),))
    assert sum(totals(table, picks).tax) == totals(together, picks).tax[0] * bool(table.rates)


@given(tables_and_picks(), st.data())
def test_an_effect_leads_to_the_total_of_that_answer(both: tuple[Table, Picks], data: st.DataObject) -> None:
    table, picks = both
    piece = data.draw(st.integers(0, len(table.pieces) - 1))
    pick = picks.pieces[piece]
    now = totals(table, picks)
    for choice, effects in enumerate(answer_effects(table, picks, piece)):
        for answer, effect in enumerate(effects):
            answers = tuple(answer if i == choice else a for i, a in enumerate(pick.answers))
            others = tuple(
                replace(p, answers=answers) if i == piece else p for i, p in enumerate(picks.pieces)
            )
            then = totals(table, replace(picks, pieces=others))
            assert effect.total == then.total
            assert effect.line == then.lines[piece] - now.lines[piece]
            if answer == pick.answers[choice]:
                assert (effect.each, effect.line, effect.total) == (0, 0, now.total)
