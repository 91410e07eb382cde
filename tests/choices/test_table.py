"""The table that totals are made from, and its form in the page."""

import json
from typing import Any

from sitegen.choices.picks import Pick, Picks, picks_json, usual_picks
from sitegen.choices.table import Part, Table, table, table_json
from sitegen.price.event import price_event
from tests.make import choice, event, shared, stem

FULL = choice(
    "full",
    {"id": "airy", "recipe": {"rose": "38"}},
    {"id": "full", "usual": "yes"},
    {"id": "lush", "recipe": {"rose": "81"}},
)
BOWLS: dict[str, Any] = {
    "id": "low-bowls",
    "recipe": {"rose": "55"},
    "quantity": {"usual": "tables", "from": "4", "to": "8"},
    "choices": [FULL],
}
CHARGES = [
    {"id": "delivery", "label": "Delivery", "percent": "12%", "least": "90.00"},
    {"id": "late", "label": "Late", "amount": "150.00", "taxable": "no", "optional": "yes"},
]
TERMS: dict[str, Any] = {
    "charges": CHARGES,
    "discount": {"percent": "5%"},
    "tax": {"rates": [{"label": "State", "rate": "6.25%"}, {"label": "County", "rate": "1%"}]},
    "payments": [
        {"label": "Retainer", "percent": "30%", "due": "approval"},
        {"label": "Balance", "rest": "yes", "due": "21 days before"},
    ],
}


def made(*pieces: dict[str, Any], **studio: Any) -> Table:
    folder = event(*pieces, counts={"tables": "5"})
    return table(price_event(shared(stems={"rose": stem("1.00")}, **studio), folder))


def test_the_form_in_the_page_is_the_documented_one() -> None:
    documented = (table_json.__doc__ or "").split("\n\n")[-1]
    assert table_json(made(BOWLS, **TERMS)) == json.loads(documented)


def test_pieces_say_whether_they_are_optional_and_taxable() -> None:
    piece = made({**BOWLS, "optional": "yes", "taxable": "no"}).pieces[0]
    assert (piece.optional, piece.taxable) == (True, False)


def test_fixed_amounts_are_rounded_to_the_smallest_unit() -> None:
    got = made(
        BOWLS,
        currency="JPY",
        charges=[{"id": "delivery", "label": "Delivery", "percent": "1%", "least": "99.5"}],
        discount={"amount": "10.5"},
        payments=[
            {"label": "One", "amount": "1000.4", "due": "approval"},
            {"label": "Two", "rest": "yes", "due": "approval"},
        ],
    )
    assert got.charges[0].least == 100
    assert got.discount == Part(None, 11)
    assert got.payments == (Part(None, 1000), None)


def test_the_last_payment_takes_the_rest_whatever_it_says() -> None:
    halves = [{"label": "Half", "percent": "50%", "due": "approval"}] * 2
    assert made(BOWLS, payments=halves).payments[-1] is None


def test_tax_terms_are_carried_as_they_are() -> None:
    rates = [{"label": "VAT", "rate": "20%"}]
    got = made(BOWLS, tax={"rates": rates, "included": "yes", "rounding": "line"})
    assert (got.included, got.per_line) == (True, True)


def test_usual_picks_take_optional_pieces_in_and_leave_optional_charges_out() -> None:
    got = usual_picks(made({**BOWLS, "optional": "yes"}, **TERMS))
    assert got == Picks((Pick((1,), 5, out=False),), frozenset())


def test_picks_as_plain_data() -> None:
    picks = Picks((Pick((1,), 5), Pick((), 1, out=True)), frozenset({3, 1}))
    assert picks_json(picks) == {
        "pieces": [
            {"answers": [1], "quantity": 5, "out": False},
            {"answers": [], "quantity": 1, "out": True},
        ],
        "charges": [1, 3],
    }
