"""What stays of each event's placed order when several are bought for as one."""

import datetime as dt
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from fractions import Fraction

from sitegen.order.market import Want
from sitegen.order.on_its_way import on_its_way
from sitegen.order.order import Order, with_before
from sitegen.order.passing import Passed
from sitegen.order.placed import holdings
from sitegen.order.row import Row
from sitegen.values.number import total

_NONE = Fraction(0)


def standing(
    orders: Sequence[Order], passed: Sequence[Passed], rows: Iterable[Row], today: dt.date
) -> tuple[Order, ...]:
    """Give the orders with what stays of each when *rows* are bought: what others take over is needed.

    What reaches a supplier's minimum is what all of the events have there.
    """
    spent = _by_supplier((row.supplier, row.cost) for row in rows)
    there = [_there(order) for order in orders]
    found = []
    for i, order in enumerate(orders):
        if order.before.placings:
            others = (pair for j, one in enumerate(there) if j != i for pair in one.items())
            wants = tuple(_raised(order.wanted, [one for one in passed if one.giver == i]))
            placings, shared = order.before.placings, order.priced.shared
            elsewhere = _by_supplier(others)
            before = on_its_way(shared, placings, wants, spent, today, lost=order.lost, elsewhere=elsewhere)
            there[i] = _by_supplier((row.supplier, row.cost) for row in before.rows)
            found.append(with_before(order, before))
        else:
            found.append(order)
    return tuple(found)


def _raised(wants: Iterable[Want], passed: Sequence[Passed]) -> Iterator[Want]:
    """What an event needs, and what others take over from it."""
    known = {want.thing: want for want in wants}
    for thing in dict.fromkeys((*known, *(one.thing for one in passed))):
        want = known.get(thing, Want(thing, _NONE))
        mine = [one for one in passed if one.thing == thing]
        cuts = (*want.cuts, *(cut for one in mine for cut in one.cuts))
        yield replace(want, amount=want.amount + total(one.amount for one in mine), cuts=cuts)


def _there(order: Order) -> dict[str, Fraction]:
    held = (one.bought for one in holdings(order.before.placings) if one.bought.thing not in order.lost)
    return _by_supplier((bought.supplier, bought.cost) for bought in held)


def _by_supplier(amounts: Iterable[tuple[str, Fraction]]) -> dict[str, Fraction]:
    found: dict[str, Fraction] = {}
    for supplier, amount in amounts:
        found[supplier] = found.get(supplier, _NONE) + amount
    return found
