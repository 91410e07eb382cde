"""What each answer would change, from where the picks stand."""

from dataclasses import replace
from fractions import Fraction

from sitegen.choices.effects import Effect, answer_effects
from sitegen.choices.picks import Pick, usual_picks
from sitegen.choices.table import Table
from sitegen.choices.totals import totals
from tests.vectors.make_totals import charge, piece

TABLE = Table(
    digits=2,
    pieces=(
        piece("bowls", (3800, 5500, 8100, 4000, 5900, 9000), (2, 3), (5, 4, 8), optional=True),
        piece("arch", (100_00,)),
        piece("petals", (0,)),
    ),
    charges=(charge("delivery", Fraction(1, 10), 5000),),
    discount=None,
    rates=(Fraction(1, 10),),
    included=False,
    per_line=False,
    payments=(),
)


def test_each_answer_tells_its_difference_and_the_total_it_leads_to() -> None:
    picks = replace(usual_picks(TABLE), pieces=(Pick((0, 1), 5), Pick((), 1), Pick((), 1)))
    # lines 275 + 100, delivery at least 50; then 10 % tax
    assert totals(TABLE, picks).total == 46750
    assert answer_effects(TABLE, picks, 0) == (
        (Effect(0, 0, 46750), Effect(400, 2000, 48950)),
        (Effect(-1700, -8500, 37400), Effect(0, 0, 46750), Effect(2600, 13000, 61105)),
    )  # the last: 505 and 10 % of it in delivery, 555.50, and tax


def test_of_a_piece_that_is_left_out_an_answer_changes_the_price_alone() -> None:
    picks = replace(usual_picks(TABLE), pieces=(Pick((0, 0), 5, out=True), Pick((), 1), Pick((), 1)))
    total = totals(TABLE, picks).total
    assert answer_effects(TABLE, picks, 0)[0][1] == Effect(200, 0, total)


def test_a_piece_without_choices_has_no_effects() -> None:
    assert answer_effects(TABLE, usual_picks(TABLE), 1) == ()
