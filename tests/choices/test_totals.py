"""From picks to a total, each rule by figures that were worked out by hand."""

from dataclasses import replace
from fractions import Fraction
from typing import Any

import pytest

from sitegen.choices.picks import Pick, Picks, usual_picks
from sitegen.choices.table import Part, Table
from sitegen.choices.totals import Totals, charge_of, totals
from tests.vectors.make_totals import charge, part, piece

# Two of 33.33 and one of 100.01, of which the second is not taxable.
PLAIN = Table(
    digits=2,
    pieces=(piece("pair", (3333,), bounds=(2, 1, 4)), piece("arch", (10001,), taxable=False, optional=True)),
    charges=(),
    discount=None,
    rates=(),
    included=False,
    per_line=False,
    payments=(),
)


def usual(**terms: Any) -> Totals:
    table = replace(PLAIN, **terms)
    return totals(table, usual_picks(table))


def test_lines_are_quantities_times_prices() -> None:
    got = usual()
    assert got.lines == (6666, 10001)
    assert got.subtotal == got.total == 16667


def test_a_piece_that_is_left_out_counts_nothing() -> None:
    got = totals(PLAIN, Picks((Pick((), 4), Pick((), 1, out=True))))
    assert got.lines == (13332, 0)
    assert got.total == 13332


def test_the_picked_answers_price_the_line() -> None:
    table = replace(PLAIN, pieces=(piece("p", (1, 20, 300, 4000, 50000, 600000), (2, 3), (1, 1, 9)),))
    assert totals(table, Picks((Pick((1, 2), 2),))).lines == (1200000,)
    assert totals(table, Picks((Pick((0, 1), 3),))).lines == (60,)


def test_a_discount_in_percent_is_rounded_half_up() -> None:
    got = usual(discount=part(Fraction(5, 100)))  # 833.35
    assert (got.discount, got.total) == (833, 15834)
    half = usual(discount=part(Fraction(3, 2 * 16667)))  # exactly 1.5
    assert half.discount == 2


def test_a_discount_takes_no_more_than_the_subtotal() -> None:
    got = usual(discount=part(99999), rates=(Fraction(1, 10),), charges=(charge("d", 500),))
    assert got.taxable == 500
    assert (got.discount, got.tax, got.total) == (16667, (50,), 550)


def test_a_charge_in_percent_is_of_the_subtotal_before_the_discount_and_at_least_its_least() -> None:
    share = charge("delivery", Fraction(12, 100), 1500)  # 2000.04 of 16667
    assert charge_of(share, 16667) == 2000
    assert charge_of(share, 10000) == 1500
    assert usual(charges=(share,), discount=part(10000)).charges == (2000,)


def test_optional_charges_are_counted_once_chosen() -> None:
    table = replace(PLAIN, charges=(charge("delivery", 500), charge("late", 700, optional=True)))
    picks = usual_picks(table)
    assert totals(table, picks).charges == (500, None)
    assert totals(table, picks).total == 16667 + 500
    assert totals(table, replace(picks, charges=frozenset({1}))).charges == (500, 700)
    assert totals(table, replace(picks, charges=frozenset({1}))).total == 16667 + 1200


def test_the_discount_lowers_every_taxable_line_in_the_same_proportion() -> None:
    charges = (charge("delivery", 1000), charge("late", 700, taxable=False))
    got = usual(discount=part(1667), charges=charges, rates=(Fraction(1, 10),))
    assert got.taxable == Fraction(6666 * 15000, 16667) + 1000  # 6999.28…, nothing rounded on the way
    assert got.tax == (700,)
    assert got.total == 15000 + 1700 + 700


def test_nothing_is_taxable_of_a_subtotal_of_nothing() -> None:
    table = replace(PLAIN, pieces=PLAIN.pieces[1:], rates=(Fraction(1, 10),), discount=part(5))
    got = totals(table, Picks((Pick((), 1, out=True),)))
    assert got.taxable == 0
    assert (got.tax, got.discount, got.total) == ((0,), 0, 0)


def test_tax_is_made_of_all_rates_together_then_split() -> None:
    # 6666 × (4 % + 3 %) is 466.62; alone they are 266.64 and 199.98: floors 266 and 200, one left to the first.
    got = usual(rates=(Fraction(4, 100), Fraction(3, 100)))
    assert got.tax == (267, 200)
    assert got.total == 16667 + 467
    # 250 × (1 % + 1 %) is 5: two and a half each, the odd one to the earlier.
    table = replace(PLAIN, pieces=(piece("p", (250,)),), rates=(Fraction(1, 100), Fraction(1, 100)))
    assert totals(table, usual_picks(table)).tax == (3, 2)


def test_rates_of_nothing_are_no_tax() -> None:
    assert usual(rates=(Fraction(0), Fraction(0))).tax == (0, 0)
    assert usual(rates=()).tax == ()


def test_tax_by_line_is_rounded_on_each_line_and_charge() -> None:
    pieces = (piece("a", (10,)), piece("b", (30,)))
    charges = (charge("delivery", 50), charge("late", 70, taxable=False))
    terms = {"pieces": pieces, "charges": charges, "rates": (Fraction(5, 100),)}
    assert usual(**terms, per_line=True).tax == (1 + 2 + 3,)  # 0.5, 1.5, 2.5, each up
    assert usual(**terms).tax == (5,)  # 4.5, once


def test_tax_by_line_is_on_the_line_as_the_discount_leaves_it() -> None:
    pieces = (piece("a", (1000,)), piece("b", (3000,)))
    got = usual(pieces=pieces, discount=part(Fraction(1, 3)), rates=(Fraction(1, 10),), per_line=True)
    # 1333 off 4000 leaves 666.75 and 2000.25: tax 66.675 and 200.025
    assert got.tax == (67 + 200,)


def test_tax_that_is_included_is_contained_and_not_added() -> None:
    table = replace(PLAIN, pieces=(piece("p", (12000,)),), rates=(Fraction(1, 5),), included=True)
    got = totals(table, usual_picks(table))
    assert got.taxable == 12000
    assert (got.tax, got.total) == ((2000,), 12000)


def test_payments_add_up_and_the_last_takes_the_rest() -> None:
    third = part(Fraction(1, 3))
    assert usual(payments=(third, third, None)).payments == (5556, 5556, 5555)
    assert usual(payments=(part(5000), part(Fraction(1, 2)), None)).payments == (5000, 8334, 3333)
    assert usual(payments=(None,)).payments == (16667,)
    assert usual().payments == ()


def test_no_payment_asks_for_more_than_is_left() -> None:
    got = usual(payments=(part(10000), part(10000), part(Fraction(1, 2)), None))
    assert got.payments == (10000, 6667, 0, 0)


@pytest.mark.parametrize(("share", "units"), [(Fraction(1, 2), 8334), (Fraction("0.49999"), 8333)])
def test_a_payment_in_percent_is_rounded_half_up(share: Fraction, units: int) -> None:
    assert usual(payments=(Part(share, None), None)).payments[0] == units
