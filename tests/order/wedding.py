"""One wedding that was worked out by hand: three places, six pieces, one of them made by the couple."""

import datetime as dt
from dataclasses import replace
from typing import Any

from sitegen.choices.picks import usual_picks
from sitegen.choices.table import table
from sitegen.model.catalogue import Supplier
from sitegen.model.content import Shared
from sitegen.order.order import Order, order
from sitegen.price.event import price_event
from tests import make

TODAY = dt.date(2031, 5, 1)
PLACES: list[dict[str, Any]] = [
    {"id": "garden", "name": "Walled garden", "use": "Ceremony", "access": "08:30", "ready": "13:30",
     "starts": "14:30", "ends": "15:15", "clear": "18:00"},
    {"id": "gate", "name": "Gate house", "access": "11:30", "ready": "12:15", "travel": "10"},
    {"id": "barn", "name": "Long barn", "use": "Dinner", "access": "09:00", "ready": "16:30",
     "starts": "17:00", "ends": "23:30", "clear": "00:45", "travel": "15"},
]  # fmt: skip
PIECES: list[dict[str, Any]] = [
    {"id": "bouquets", "piece": "Attendants' bouquets", "quantity": "5", "recipe": {"rose": "4", "gum": "2"},
     "minutes": "15", "place": "gate",
     "second_place": {"place": "barn", "from": "16:00", "vessel": "cup", "minutes": "2", "spot": "Head table"}},
    {"id": "arch", "piece": "Garden arch", "recipe": {"gum": "20", "rose": "20"}, "minutes": "120",
     "bench": "on-site", "place": "garden", "site": {"minutes": "30", "hands": "2"}, "goods": {"frame": "1"}},
    {"id": "jars", "piece": "Aisle jars", "quantity": "10", "recipe": {"rose": "2"}, "minutes": "8",
     "goods": {"jar": "1"}, "place": "garden", "site": {"minutes": "2"},
     "second_place": {"place": "barn", "from": "15:45", "minutes": "4", "hands": "2"}},
    {"id": "buttons", "piece": "Boutonnieres", "quantity": "8", "extra": "1", "recipe": {"rose": "1"},
     "minutes": "8", "bench": "same-day", "place": "gate"},
    {"id": "bowls", "piece": "Low bowls", "quantity": "9", "recipe": {"rose": "6", "gum": "3"}, "minutes": "20",
     "goods": {"bowl": "1"}, "place": "barn", "site": {"minutes": "3"}},
    {"id": "posies", "piece": "Posies", "quantity": "3", "recipe": {"rose": "5"}, "minutes": "20",
     "made_by": "couple", "place": "gate"},
]  # fmt: skip


def shared_of(**studio: Any) -> Shared:
    stems = {
        "rose": make.stem("10.00", "10", name="Rose, cream", arrive="2-4", ethylene="sensitive"),
        "gum": make.stem("5.00", "8", role="foliage", name="Eucalyptus", arrive="3-4", ethylene="gives"),
    }
    goods = {name: {"name": name.title(), "hire": "4.00"} for name in ("cup", "jar", "bowl", "frame")}
    terms = {
        "crew": {"hands": "2", "hours": "8", "pay": "22.00"},
        "work": {"bunch": "6", "pull": "5", "load": "45", "travel": "60", "strike": "90"},
        **studio,
    }
    one = make.shared(stems=stems, goods=goods, **terms)
    farm = Supplier.model_validate(
        {"name": "A farm", "delivers": "Tue Wed Thu", "order_days": "3", "closed": "Sun"}
    )
    return replace(one, suppliers={"farm": farm})


def order_of(
    *pieces: dict[str, Any], shared: Shared | None = None, today: dt.date = TODAY, **more: Any
) -> Order:
    folder = make.event(*(pieces or PIECES), **({"places": PLACES} | more))
    priced = price_event(shared or shared_of(), folder)
    return order(priced, usual_picks(table(priced)), today)
