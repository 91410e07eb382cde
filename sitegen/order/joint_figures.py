"""The figures of an order for several events: what is bought, and whose what is. Private."""

from typing import Any

from sitegen.order.figures import order_figures
from sitegen.order.order import Order
from sitegen.order.passing import Passed
from sitegen.order.together import Together
from sitegen.values.money import Currency
from sitegen.values.number import decimal_text


def joint_figures(made: Together, order: Order) -> dict[str, Any]:
    """Give the whole order, in the shape of one event's, and each event's part of what is to be bought.

    `apart` is what the events' own orders would cost beside each other. Stems and pieces are whole numbers,
    lengths metres. The parts add up to `order.buy` and `order.deliveries`, to the smallest unit. `passed` is
    what one has to spare and another takes over, with its part of what it cost when it was placed; it is in
    no part of what is to be bought.
    """
    money = order.priced.shared.currency
    found = {
        "date": order.priced.folder.event.date.isoformat(),
        "currency": money.code,
        "events": [_event(made, i, money) for i in range(len(made.orders))],
        "apart": money.text(money.units(made.alone)),
        "order": order_figures(order),
    }
    if made.passed:
        found["passed"] = [_passed(made, one, money) for one in made.passed]
    return found


def _passed(made: Together, one: Passed, money: Currency) -> dict[str, Any]:
    ids = [order.priced.folder.id for order in made.orders]
    return {
        one.thing.kind: one.thing.id,
        "from": ids[one.giver],
        "to": ids[one.taker],
        "amount": decimal_text(one.amount),
        "cost": money.text(money.units(one.cost)),
    }


def _event(made: Together, event: int, money: Currency) -> dict[str, Any]:
    own = made.orders[event]
    mine = [(one.row, one.parts[event]) for one in made.rows if event in one.parts]
    return {
        "event": own.priced.folder.id,
        "date": own.priced.folder.event.date.isoformat(),
        "need": dict(own.need.stems),
        "buy": [
            {
                row.thing.kind: row.thing.id,
                "supplier": row.supplier,
                "amount": decimal_text(part.amount),
                "cost": money.text(money.units(part.cost)),
            }
            for row, part in mine
        ],
        "deliveries": [
            {"supplier": name, "cost": money.text(money.units(fee))}
            for name, fee in made.fee_parts[event].items()
        ],
        "cost": money.text(money.units(made.cost_of(event))),
    }
