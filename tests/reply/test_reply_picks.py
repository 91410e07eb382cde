"""Picks against other picks, and picks taken over to another revision."""

from random import Random
from typing import Any

import pytest
from hypothesis import given

from sitegen.choices.picks import Pick, Picks, usual_picks
from sitegen.choices.totals import totals
from sitegen.price.event import price_event
from sitegen.records.shown import Shown
from sitegen.records.snapshot import snapshot
from sitegen.reply.carry import Lost, carry
from sitegen.reply.difference import Row, picks_difference
from tests import make
from tests.render import sample
from tests.reply.drawn import chances, random_picks


def shown(*pieces: dict[str, Any], **studio: Any) -> Shown:
    shared = make.shared(stems=sample.STEMS, goods=sample.GOODS, **(sample.TERMS | studio))
    return snapshot(price_event(shared, sample.event(*pieces))).shown


SENT = shown()
BOUQUETS, ARCH, TABLES = usual_picks(SENT.table).pieces
CHOSEN = Picks((Pick((1, 1, 0), 7), Pick((), 1, out=True), TABLES), frozenset({1}))


def test_every_difference_in_words_and_money() -> None:
    found = picks_difference(SENT, usual_picks(SENT.table), CHOSEN)
    each = SENT.table.pieces[0].each
    # By hand: 4 (fuller) + 2 (cream) + 0 of 2 × 2 × 2 combinations, the last choice turning fastest.
    bouquets = Row(
        "Attendants' bouquets",
        ("Fuller, instead of As shown", "All cream, instead of Blush", "7, instead of 5"),
        7 * each[6] - 5 * each[0],
    )
    arch = Row("Arch", ("left out",), -SENT.table.pieces[1].each[0])
    assert found.rows == (bouquets, arch, Row("Late collection", ("added",), 15000))
    assert found.total.now == totals(SENT.table, CHOSEN).total


@given(chances, chances)
def test_nothing_differs_only_between_equal_picks(one: Random, other: Random) -> None:
    was, now = random_picks(one, SENT.table), random_picks(other, SENT.table)
    found = picks_difference(SENT, was, now)
    assert bool(found.rows) == (_visible(was) != _visible(now))
    back = picks_difference(SENT, now, was)
    assert [row.moved for row in back.rows] == [-row.moved for row in found.rows]
    assert (back.total.was, back.total.now) == (found.total.now, found.total.was)


def _visible(picks: Picks) -> Any:
    """What was answered for a piece that is left out shows nowhere."""
    return [None if pick.out else pick for pick in picks.pieces], picks.charges


@given(chances)
def test_taken_over_to_the_same_revision_nothing_changes(chance: Random) -> None:
    picks = random_picks(chance, SENT.table)
    assert carry(picks, SENT, SENT) == (picks, ())


OTHER_ANSWERS = {
    **sample.BOUQUETS,
    "choices": [
        make.choice("colour", {"id": "cream", "label": "All cream"}, {"id": "blush", "label": "Blush"}),
        make.choice("fullness", {"id": "shown", "label": "As shown"}),
    ],
}


@pytest.mark.parametrize(
    ("now", "pieces", "lost"),
    [
        (shown(sample.TABLES, sample.ARCH, sample.BOUQUETS), (TABLES, CHOSEN.pieces[1], CHOSEN.pieces[0]), ()),
        (
            shown(OTHER_ANSWERS, sample.ARCH, sample.TABLES),
            (Pick((0, 0), 7), CHOSEN.pieces[1], TABLES),
            (Lost("Attendants' bouquets", "Fuller"),),
        ),
        (
            shown({**sample.BOUQUETS, "quantity": "6"}, {**sample.ARCH, "optional": "no"}, sample.TABLES),
            (Pick((1, 1, 0), 6), ARCH, TABLES),
            (Lost("Attendants' bouquets", "7"), Lost("Arch", "left out")),
        ),
        (shown(sample.TABLES), (TABLES,), (Lost("Attendants' bouquets", "no longer in the proposal"), Lost("Arch", "no longer in the proposal"))),
    ],
)  # fmt: skip
def test_what_still_means_something_is_kept_and_the_rest_is_told(
    now: Shown, pieces: tuple[Pick, ...], lost: tuple[Lost, ...]
) -> None:
    found, told = carry(CHOSEN, SENT, now)
    assert found.pieces == pieces
    assert set(told) == set(lost)
    assert found.charges == frozenset({1})
    totals(now.table, found)


def test_a_charge_that_is_no_longer_offered_is_told() -> None:
    found, told = carry(CHOSEN, SENT, shown(charges=[]))
    assert (found.charges, told) == (frozenset(), (Lost("Late collection", "no longer offered"),))
