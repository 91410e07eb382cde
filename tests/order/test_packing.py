"""The packing list of the wedding that was worked out by hand."""

from typing import Any

import pytest

from sitegen.order.boxes import boxes_of
from sitegen.order.order import Order
from sitegen.order.packing import Load, packing
from sitegen.order.plan import plan_of
from sitegen.order.plan_figures import plan_figures
from sitegen.values.length import Length
from tests import make
from tests.order.wedding import PIECES, order_of


def with_boxes(**boxes: int) -> list[dict[str, Any]]:
    return [
        {**piece, **({"boxes": str(boxes[piece["id"]])} if piece["id"] in boxes else {})} for piece in PIECES
    ]


def packed(order: Order) -> dict[str, Load]:
    return {load.stop.id: load for load in packing(order, plan_of(order).stops)}


@pytest.fixture(scope="module")
def wedding() -> Order:
    return order_of(*with_boxes(bouquets=2, arch=3, jars=1, bowls=2, posies=1))


def test_boxes_come_off_where_their_piece_stands_first(wedding: Order) -> None:
    told = {
        id_: [(one.box.number, one.box.piece, one.box.first, one.box.last) for one in load.boxes]
        for id_, load in packed(wedding).items()
    }
    assert told == {
        "gate": [(1, "bouquets", 1, 3), (2, "bouquets", 4, 5)],
        "garden": [(3, "arch", 1, 1), (4, "arch", 1, 1), (5, "arch", 1, 1), (6, "jars", 1, 10)],
        "barn": [(7, "bowls", 1, 5), (8, "bowls", 6, 9)],
    }
    # The couple's own box is not in the van.
    assert [box.piece for box in boxes_of(wedding)][-1] == "posies"


def test_what_has_no_box_is_not_lost(wedding: Order) -> None:
    assert [(item.piece, item.copies) for item in packed(wedding)["gate"].loose] == [("buttons", 9)]


def test_hire_pieces_go_out_once_and_come_home_once(wedding: Order) -> None:
    loads = packed(wedding)
    assert {id_: load.hire for id_, load in loads.items()} == {
        "gate": {},
        "garden": {"frame": 1, "jar": 10},
        "barn": {"bowl": 9, "cup": 5},  # the cups wait there for the bouquets
    }
    assert {id_: load.home for id_, load in loads.items()} == {
        "gate": {},
        "garden": {"frame": 1},
        "barn": {"cup": 5, "jar": 10, "bowl": 9},
    }
    assert [[one.home for one in load.boxes] for load in loads.values()] == [
        [False, False], [True, True, True, True], [True, True]
    ]  # fmt: skip


def test_goods_go_along_only_where_they_are_used_on_site() -> None:
    goods = {"cord": {"length": "10 m"}, "pin": {"pieces": "50"}}

    shared = make.shared(
        stems={"rose": make.stem("1.00")},
        goods={name: make.pack("5.00", **size) for name, size in goods.items()},
    )
    built = {
        "id": "arch",
        "recipe": {"rose": "9"},
        "bench": "on-site",
        "goods": {"cord": "2 m", "pin": "3"},
        "quantity": "2",
    }
    bench = {"id": "bow", "recipe": {"rose": "1"}, "goods": {"cord": "1 m", "pin": "5"}}
    bare = {"id": "light", "goods": {"cord": "50 cm", "pin": "4"}}
    order = order_of(built, bench, bare, shared=shared, places=[])
    (load,) = packed(order).values()
    cord, pins = load.goods["cord"], load.goods["pin"]
    assert isinstance(cord, Length)
    assert str(cord) == "4.5 m"
    assert pins == 10


def test_the_figures_of_the_days(wedding: Order) -> None:
    told = plan_figures(wedding, plan_of(wedding))
    assert list(told) == ["deliveries", "hire", "days", "run", "packing"]
    assert told["deliveries"][0] == {
        "supplier": "farm", "day": "2031-06-11", "order_by": "2031-06-07", "closed": "2031-06-08",
        "stems": {"gum": 64}, "goods": [],
    }  # fmt: skip
    assert told["hire"][0] == {
        "good": "cup", "out": 5, "owned": None, "from": "2031-06-14", "until": "2031-06-15", "pieces": ["bouquets"],
    }  # fmt: skip
    friday = told["days"][2]
    assert (friday["day"], friday["minutes"], friday["total"], friday["capacity"]) == (
        "2031-06-13", {"pull": "50", "build": "335"}, "385", "960",
    )  # fmt: skip
    assert friday["tasks"][1] == {"what": "build", "about": "bouquets", "count": 5, "minutes": "75"}
    gate = told["run"][0]
    assert (gate["place"], gate["day"], gate["arrives"], gate["late"]) == (
        "gate",
        "2031-06-14",
        "2031-06-14T11:30",
        0,
    )
    assert gate["steps"][3] == {
        "kind": "leave", "at": "2031-06-14T16:25", "pieces": {"bouquets": 5}, "hire": {"cup": 5}, "minutes": "10",
        "hands": 1, "other": "barn",
    }  # fmt: skip
    assert told["packing"][0] == {
        "place": "gate",
        "boxes": [
            {"box": 1, "piece": "bouquets", "first": 1, "last": 3, "part": 1, "parts": 1},
            {"box": 2, "piece": "bouquets", "first": 4, "last": 5, "part": 1, "parts": 1},
        ],
        "loose": {"buttons": 9}, "hire": {}, "goods": {}, "home": {},
    }  # fmt: skip
