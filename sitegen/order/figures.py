"""The order's part of figures.json: amounts as decimal texts, stems as whole numbers."""

from collections.abc import Mapping
from fractions import Fraction
from typing import Any

from sitegen.order.order import Order, Row
from sitegen.values.money import Currency


def order_figures(order: Order) -> dict[str, Any]:
    """Give need, purchases, deliveries, cost and spare stems; need is before stock.

    `swaps` are the stand-ins that came after the approval. Once an order was placed, `buy` and `deliveries`
    are what to add to it, `cancel` and `waived` what to take back. `placed` lists what was bought on which
    day, as far as it was not cancelled since. Cost and spare stems are then of all that was placed and is to
    be added, without what is taken back.
    """
    money, before = order.priced.shared.currency, order.before
    found: dict[str, Any] = {
        "need": dict(order.need.stems),
        "buy": [_row(order, row) for row in order.added],
        "deliveries": _fees(money, order.added_fees),
        "cost": money.text(money.units(order.cost)),
        "spare": order.spare,
    }
    stood = dict.fromkeys(one for portion in order.portions for one in portion.made.stood_in)
    if stood:
        found["swaps"] = [{"from": one.old, "to": one.new, "why": one.why} for one in stood]
    if not before.placings:
        return found
    days = dict.fromkeys(placing.day for placing in before.placings)
    return {
        **found,
        "cancel": [_row(order, row) for row in before.cancelled],
        "waived": _fees(money, before.waived),
        "placed": [
            {"date": day.isoformat(), "buy": [_row(order, row) for row in before.rows if row.placed == day]}
            for day in days
        ],
        "placed_deliveries": _fees(money, before.fees),
    }


def _fees(money: Currency, fees: Mapping[str, Fraction]) -> list[dict[str, str]]:
    return [{"supplier": supplier, "cost": money.text(money.units(fee))} for supplier, fee in fees.items()]


def _row(order: Order, row: Row) -> dict[str, Any]:
    money = order.priced.shared.currency
    return {
        row.thing.kind: row.thing.id,
        "supplier": row.supplier,
        "pack": pack_text(order, row),
        "packs": row.packs,
        "cost": money.text(money.units(row.cost)),
    }


def pack_text(order: Order, row: Row) -> str:
    """Say what one pack holds: `5` stems or pieces, or `25 yd`."""
    if row.thing.kind == "good":
        length = order.priced.shared.goods[row.thing.id].packs[row.bought.lot.index].length
        if length is not None:
            return str(length)
    return str(int(row.bought.lot.size))
