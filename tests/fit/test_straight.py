"""The total between two straight lines, on any proposal."""

from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from sitegen.choices.picks import Picks
from sitegen.choices.table import Table
from sitegen.choices.totals import lines_of, total_of, totals
from sitegen.fit.straight import Span, Straight, apart, spans, straight
from tests.fit.drawn import small_tables
from tests.laws.drawn import picks_of, tables


@st.composite
def picked(draw: st.DrawFn) -> tuple[Table, Picks, Span]:
    table = draw(st.one_of(tables(), small_tables()))
    picks = draw(picks_of(table))
    subtotal = totals(table, picks).subtotal
    least, most = max(0, subtotal - draw(st.integers(0, 9999))), subtotal + draw(st.integers(0, 9999))
    return table, picks, Span(least, most)


def counted(line: Straight, table: Table, lines: tuple[int, ...]) -> Fraction:
    both = zip(table.pieces, lines, strict=True)
    return line.const + sum(line.of(amount, taxable=piece.taxable) for piece, amount in both)


@given(picked())
def test_no_total_lies_outside_its_lines(case: tuple[Table, Picks, Span]) -> None:
    table, picks, whole = case
    sums = totals(table, picks)
    inside = [span for span in spans(table, picks.charges, whole) if span.least <= sums.subtotal <= span.most]
    (span,) = inside
    low, high = (counted(line, table, sums.lines) for line in straight(table, picks.charges, span))
    assert low <= sums.total <= high


@given(picked())
def test_at_one_subtotal_only_the_rounding_of_one_tax_is_left(case: tuple[Table, Picks, Span]) -> None:
    table, picks, _ = case
    sums = totals(table, picks)
    bounds = straight(table, picks.charges, Span(sums.subtotal, sums.subtotal))
    low, high = (counted(line, table, sums.lines) for line in bounds)
    exact = table.per_line or table.included or not any(table.rates)
    assert high - low <= (0 if exact else 1)


@given(small_tables(), st.data())
def test_a_line_that_much_dearer_never_lowers_the_total(table: Table, data: st.DataObject) -> None:
    picks = data.draw(picks_of(table))
    lines = lines_of(table, picks)
    step = apart(table, picks.charges, sum(lines))
    if step is None:
        return
    at = data.draw(st.integers(0, len(lines) - 1))
    dearer = (*lines[:at], lines[at] + step + data.draw(st.integers(0, 50)), *lines[at + 1 :])
    assert total_of(table, dearer, picks.charges) >= total_of(table, lines, picks.charges)


def test_spans_share_all_subtotals_out() -> None:
    table = Table(2, (), (), None, (), included=False, per_line=False, payments=(None,))
    assert spans(table, frozenset(), Span(0, 0)) == (Span(0, 0),)
    assert spans(table, frozenset(), Span(0, 90)) == (Span(0, 0), Span(1, 90))
    assert spans(table, frozenset(), Span(5, 90)) == (Span(5, 90),)
