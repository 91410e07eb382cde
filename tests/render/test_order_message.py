"""Messages to suppliers: their own words, their days, no price; and once placed, only what changes."""

import datetime as dt
from dataclasses import replace
from typing import Any

import pytest

from sitegen.choices.picks import usual_picks
from sitegen.choices.table import table
from sitegen.model.catalogue import Supplier
from sitegen.order.order import Order, order
from sitegen.price.event import price_event
from sitegen.render.desk import SupplierMessage
from sitegen.render.order_message import messages
from tests import make

TODAY = dt.date(2031, 5, 1)
FARM = {
    "name": "A farm",
    "email": "orders+flowers@farm.example",
    "order_days": "5",
    "delivers": "Tue Thu",
    "delivery": "12.00",
    "hours": "07:00-09:00",
    "customer": "77",
}


def order_of(**supplier: Any) -> Order:
    stems = {
        "rose": make.stem("71.31", "10", name="Garden rose, blush", arrive="2-4"),
        "gum": make.stem("5.00", "~8", role="foliage", name="Eucalyptus, silver", arrive="4"),
    }
    stems["gum"]["offers"][0]["sold_as"] = "Silver dollar gum, 60 cm"
    goods = {"pin": make.pack("6.50", pieces="144") | {"name": "Pins"}}
    studio = {"studio": "Test Studio", "contact": {"name": "Una Test", "phone": "555-0144"}}
    piece = {"recipe": {"rose": "12", "gum": "12"}, "goods": {"pin": "2"}}
    shared = make.shared(stems=stems, goods=goods, **studio)
    shared = replace(shared, suppliers={"farm": Supplier.model_validate(FARM | supplier)})
    priced = price_event(shared, make.event(piece))
    return order(priced, usual_picks(table(priced)), TODAY)


def message(**supplier: Any) -> SupplierMessage:
    (one,) = messages(order_of(**supplier), TODAY)
    return one


def test_each_delivery_day_lists_what_is_wanted_in_their_words() -> None:
    # The event is Sat 14 Jun: foliage 4 days before or earlier comes on Tue 10 Jun, roses and pins on Thu 12 Jun.
    assert message().text == (
        "Test Studio, customer 77\n"
        "\n"
        "For Tuesday, June 10, 2031, 07:00–09:00:\n"
        "2 bunches  Silver dollar gum, 60 cm (about 8 a bunch)\n"
        "\n"
        "For Thursday, June 12, 2031, 07:00–09:00:\n"
        "2 bunches  Garden rose, blush (10 a bunch)\n"
        "1 pack     Pins (144 a pack)\n"
        "\n"
        "Thank you. Una Test, 555-0144"
    )


def test_no_price_is_in_the_message_but_its_sum_stands_above_it() -> None:
    # 2 × 71.31 + 2 × 5.00 + 6.50 = 159.12, and 12.00 for the delivery. Five days before Tue 10 Jun is Thu 5 Jun.
    one = message()
    assert one.summary.replace("\N{NO-BREAK SPACE}", " ") == "171.12 with delivery · order by Thu, Jun 5"
    assert "71.31" not in one.text
    assert "159.12" not in one.text
    assert "12.00" not in one.text


@pytest.mark.parametrize("more", [{"brings": "yes"}, {}], ids=["brought", "not said"])
def test_what_nobody_has_to_fetch_is_told_with_its_day_alone(more: dict[str, str]) -> None:
    assert "For Thursday, June 12, 2031, 07:00–09:00:" in message(**more).text


def test_what_is_fetched_is_told_as_such() -> None:
    assert "To be fetched on Thursday, June 12, 2031, 07:00–09:00:" in message(brings="no").text


def test_mail_and_list_are_addressed() -> None:
    assert (message().mail, message().list) == ("orders+flowers@farm.example", "order-farm.csv")
    assert message(email='a"?subject=x&b@farm.example').mail == "a%22%3Fsubject%3Dx%26b@farm.example"


def test_once_placed_only_what_changes_is_said() -> None:
    was = order_of()
    rose, gum = was.added[0], was.added[1]
    before = replace(was.before, placings=("one",), cancelled=(gum,))  # type: ignore[arg-type]  # any will do
    (one,) = messages(replace(was, added=(rose,), added_fees={}, before=before), TODAY)
    assert "Please add, for Thursday, June 12, 2031, 07:00–09:00:\n2 bunches  Garden rose" in one.text
    assert "Please cancel, for Tuesday, June 10, 2031, 07:00–09:00:\n2 bunches  Silver dollar gum" in one.text
    assert "Pins" not in one.text
    assert one.summary.replace("\N{NO-BREAK SPACE}", " ") == (
        "142.62 · order by Sat, Jun 7 · something to cancel"
    )


def test_nobody_hears_anything_where_nothing_is_to_be_said() -> None:
    was = order_of()
    assert messages(replace(was, added=()), TODAY) == ()
