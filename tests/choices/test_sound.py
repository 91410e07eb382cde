"""Sums that cannot stand say of which event, and where it alone can have others."""

from typing import Any

import pytest

from sitegen.choices.picks import usual_picks
from sitegen.choices.sound import sums
from sitegen.choices.table import table
from sitegen.choices.totals import totals
from sitegen.price.event import price_event
from tests import make

DUE = [
    {"label": "Deposit", "amount": "500.00", "due": "approval"},
    {"label": "Rest", "rest": "yes", "due": "approval"},
]
ROSE = {"rose": make.stem("100", "3")}


@pytest.mark.parametrize(
    ("studio", "own", "fix"),
    [
        ({"payments": DUE}, {}, "in the event.md of 2031-06-14-test, for it alone"),
        ({}, {"payments": DUE}, "lower one of them"),
    ],
)
def test_payments_above_names_the_event(studio: dict[str, Any], own: dict[str, Any], fix: str) -> None:
    priced = price_event(make.shared(stems=ROSE, **studio), make.event({"recipe": {"rose": "3"}}, **own))
    prices = table(priced)
    (found,) = sums(priced, totals(prices, usual_picks(prices)))
    assert (found.code, found.what.partition(":")[0]) == ("payments-above", "2031-06-14-test")
    assert fix in found.fix
