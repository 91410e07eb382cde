"""The order's part of figures.json: amounts as decimal texts, stems as whole numbers."""

from typing import Any

from sitegen.order.order import Order, Row


def order_figures(order: Order) -> dict[str, Any]:
    """Give need, purchases, deliveries, cost and spare stems; need is before stock."""
    money = order.priced.shared.currency
    return {
        "need": dict(order.need.stems),
        "buy": [_row(order, row) for row in order.rows],
        "deliveries": [
            {"supplier": supplier, "cost": money.text(money.units(fee))}
            for supplier, fee in order.deliveries.items()
        ],
        "cost": money.text(money.units(order.cost)),
        "spare": order.spare,
    }


def _row(order: Order, row: Row) -> dict[str, Any]:
    money = order.priced.shared.currency
    return {
        row.thing.kind: row.thing.id,
        "supplier": row.supplier,
        "pack": pack_text(order, row),
        "packs": row.bought.packs,
        "cost": money.text(money.units(row.bought.cost)),
    }


def pack_text(order: Order, row: Row) -> str:
    """Say what one pack holds: `5` stems or pieces, or `25 yd`."""
    if row.thing.kind == "good":
        length = order.priced.shared.goods[row.thing.id].packs[row.bought.lot.index].length
        if length is not None:
            return str(length)
    return str(int(row.bought.lot.size))
