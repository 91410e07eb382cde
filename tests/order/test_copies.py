"""Who carries which copy, and which copies travel in which box."""

import datetime as dt
from typing import Any

from hypothesis import given
from hypothesis import strategies as st

from sitegen.choices.picks import usual_picks
from sitegen.choices.table import table
from sitegen.order.boxes import boxes_of
from sitegen.order.copies import copies_of
from sitegen.order.order import Order, order
from sitegen.price.event import price_event
from tests import make

STEMS = {"rose": make.stem("2.00", "10"), "olive": make.stem("1.00", "10", role="foliage")}


def order_of(*pieces: dict[str, Any]) -> Order:
    priced = price_event(
        make.shared(stems=STEMS), make.event(*pieces, places=[{"id": "barn", "name": "Barn"}])
    )
    return order(priced, usual_picks(table(priced)), dt.date(2031, 5, 1))


def bouquets(**more: Any) -> dict[str, Any]:
    return {"id": "bouquets", "quantity": "4", "recipe": {"rose": "3", "olive": "1/2"}, **more}


def test_wearers_take_the_copies_in_turn_and_the_unpaid_ones_are_spare() -> None:
    made = order_of(bouquets(extra="2", wearers=["Bea", {"name": "Cleo", "side": "left wrist"}]))
    copies = copies_of(made, "bouquets")
    assert [(one.number, one.wearer and one.wearer.name, one.spare) for one in copies] == [
        (1, "Bea", False),
        (2, "Cleo", False),
        (3, None, False),
        (4, None, False),
        (5, None, True),
        (6, None, True),
    ]
    assert copies[1].wearer is not None
    assert copies[1].wearer.side == "left wrist"


def test_a_wearer_beyond_the_quantity_takes_a_spare_one() -> None:
    made = order_of(bouquets(quantity="1", extra="2", wearers=["Bea", "Cleo", "Dot", "Em"]))
    assert [one.wearer and one.wearer.name for one in copies_of(made, "bouquets")] == ["Bea", "Cleo", "Dot"]
    assert not any(one.spare for one in copies_of(made, "bouquets"))


def test_what_is_not_made_has_no_copies() -> None:
    assert copies_of(order_of(bouquets(quantity="0")), "bouquets") == ()
    assert copies_of(order_of(bouquets()), "another") == ()


def test_boxes_are_numbered_through_the_event() -> None:
    made = order_of(
        bouquets(quantity="9", boxes="2", place="barn"), bouquets(id="jug"), bouquets(id="arch", boxes="1")
    )
    assert [(one.number, one.piece, one.first, one.last, one.place) for one in boxes_of(made)] == [
        (1, "bouquets", 1, 5, "barn"),
        (2, "bouquets", 6, 9, "barn"),
        (3, "arch", 1, 4, None),
    ]


def test_one_copy_may_take_several_boxes() -> None:
    made = order_of(bouquets(quantity="2", boxes="3"))
    assert [(one.first, one.last, one.part, one.parts) for one in boxes_of(made)] == [
        (1, 1, 1, 2),
        (1, 1, 2, 2),
        (2, 2, 1, 1),
    ]


@given(st.integers(1, 30), st.integers(1, 12))
def test_every_copy_is_in_a_box(quantity: int, boxes: int) -> None:
    made = boxes_of(order_of(bouquets(quantity=str(quantity), boxes=str(boxes))))
    assert [one.number for one in made] == list(range(1, boxes + 1))
    held = [(copy, one.part) for one in made for copy in range(one.first, one.last + 1)]
    assert len(held) == len(set(held)) == max(quantity, boxes)
    assert {copy for copy, _ in held} == set(range(1, quantity + 1))
    if boxes <= quantity:
        assert max(one.copies for one in made) - min(one.copies for one in made) <= 1
