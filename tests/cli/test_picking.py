"""Picks given by hand on the command line."""

import pytest

from sitegen.choices.picks import Pick, Picks, usual_picks
from sitegen.cli.exits import USAGE, Stop
from sitegen.cli.picking import picked
from sitegen.records.snapshot import snapshot
from tests.render import sample

SHOWN = snapshot(sample.priced()).shown
USUAL = usual_picks(SHOWN.table)
BOUQUETS, ARCH, TABLES = USUAL.pieces


def test_answers_counts_pieces_and_charges_are_picked_by_hand() -> None:
    said = ["bouquets.fullness=fuller", "bouq.tie = trail", "bouquets=7", "arch=out", "late=in"]
    wanted = Picks((Pick((1, 0, 1), 7), Pick((), 1, out=True), TABLES), frozenset({1}))
    assert picked(SHOWN, USUAL, said) == wanted
    assert picked(SHOWN, wanted, ["arch=in", "late=out", "bouquets=5"]) == Picks(
        (Pick((1, 0, 1), 5), ARCH, TABLES)
    )
    assert picked(SHOWN, USUAL, []) == USUAL


def test_a_count_brings_a_piece_back() -> None:
    assert picked(SHOWN, USUAL, ["arch=out", "arch=1"]) == USUAL


@pytest.mark.parametrize(
    ("said", "told"),
    [
        ("bouquets", "says nothing to pick"),
        ("=7", "says nothing to pick"),
        ("sword=7", 'no piece or optional charge is called "sword"'),
        ("bouquets.colour=green", 'no answer is called "green"'),
        ("bouquets.size=small", 'no choice is called "size"'),
        ("bouquets=8", "was offered from 4 to 7"),
        ("tables=13", "was offered as 12"),
        ("tables=out", "is not optional"),
        ("bouquets=many", "is a number, in or out"),
        ("bouquets=٧", "is a number, in or out"),
        ("delivery=in", 'no piece or optional charge is called "delivery"'),
        ("late=150", "is in or out"),
    ],
)
def test_what_means_nothing_is_said(said: str, told: str) -> None:
    with pytest.raises(Stop, match=told) as stop:
        picked(SHOWN, USUAL, [said])
    assert stop.value.code == USAGE
