"""Figures at other picks than the usual ones, and in a currency without small coins."""

from dataclasses import replace
from typing import Any

from sitegen.choices.picks import Pick, Picks, usual_picks
from sitegen.choices.table import table
from sitegen.choices.totals import totals
from sitegen.price.event import price_event
from sitegen.render.figures import figures
from tests.make import choice, event, shared, stem

STUDIO = shared(
    stems={"rose": stem("100", "3")},
    currency="JPY",
    pricing={"markup": {"fresh": "2"}},
    charges=[
        {"id": "delivery", "label": "Delivery", "percent": "10%", "least": "2000", "taxable": "no"},
        {"id": "late", "label": "Late", "amount": "1500", "optional": "yes"},
    ],
    tax={"rates": [{"label": "Tax", "rate": "10%"}], "included": "yes"},
    payments=[
        {"label": "First", "percent": "50%", "due": "2031-01-05"},
        {"label": "Last", "rest": "yes", "due": "7 days before"},
    ],
)
FULL = choice("full", {"id": "as"}, {"id": "more", "recipe": {"rose": "41"}})
BOWLS = {"id": "bowls", "recipe": {"rose": "1/3"}, "quantity": {"usual": "3", "to": "9"}, "choices": [FULL]}
PRICED = price_event(STUDIO, event(BOWLS, {"id": "arch", "recipe": {"rose": "150"}, "optional": "yes"}))
TABLE = table(PRICED)


def at(picks: Picks) -> dict[str, Any]:
    return figures(PRICED, picks, totals(TABLE, picks), {"need": {}}, revision=3, stage="answered")


def test_a_piece_that_is_left_out_counts_none() -> None:
    got = at(Picks((Pick((1,), 5), Pick((), 1, out=True))))
    bowls, arch = got["pieces"]
    assert (bowls["quantity"], bowls["each"], bowls["line"], bowls["answers"]) == (
        5,
        "2733",
        "13665",
        {"full": "more"},
    )
    assert (arch["quantity"], arch["each"], arch["line"]) == (0, "10000", "0")
    assert got["subtotal"] == "13665"


def test_only_charges_that_are_charged_are_listed() -> None:
    usual = usual_picks(TABLE)
    assert [charge["id"] for charge in at(usual)["charges"]] == ["delivery"]
    late = at(replace(usual, charges=frozenset({1})))
    assert late["charges"] == [{"id": "delivery", "amount": "2000"}, {"id": "late", "amount": "1500"}]


def test_tax_that_is_included_is_shown_and_not_added() -> None:
    got = at(usual_picks(TABLE))  # three bowls of 22 (a third of a stem at 66.67) and an arch of 10000
    assert (got["subtotal"], got["taxable"], got["total"]) == ("10066", "10066", "12066")
    assert got["tax"] == [{"label": "Tax", "amount": "915"}]


def test_due_dates_are_dates_and_revision_and_stage_are_told() -> None:
    got = at(usual_picks(TABLE))
    assert [(one["due"], one["amount"]) for one in got["payments"]] == [
        ("2031-01-05", "6033"),
        ("2031-06-07", "6033"),
    ]
    assert (got["revision"], got["stage"], got["order"]) == (3, "answered", {"need": {}})


def test_thirds_and_costs_are_rounded_where_they_are_printed() -> None:
    bowls = at(usual_picks(TABLE))["pieces"][0]
    assert bowls["recipe"] == {"rose": "0.333333"}
    assert (bowls["each"], bowls["cost"], bowls["margin"]) == ("22", "11", "11")
    assert [one["recipe"] for one in bowls["combinations"]] == [{"rose": "0.333333"}, {"rose": "41"}]
