"""Several events bought for as one order, and what of it is whose.

What all of them take of a stem is summed first, then the loss is added, then stems are rounded up, and whole
bunches are bought. Where no delivery suits all who take it, it is bought for those whom one suits.
"""

import datetime as dt
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction

from sitegen.model.content import Shared
from sitegen.order.buy import buy
from sitegen.order.market import Buyer, Purchase, Purchases, Thing
from sitegen.order.order import Order
from sitegen.order.pooling import Asked, Group, asked_of, one_each, pooled, solved
from sitegen.order.row import Part, Row
from sitegen.values.money import Currency, share
from sitegen.values.number import total


@dataclass(frozen=True, slots=True)
class Joint:
    """A row of an order for several, and whose it is: parts by the index of the event, which add up to it."""

    row: Row
    parts: Mapping[int, Part]


@dataclass(frozen=True, slots=True)
class Together:
    """What is to be bought for several events as one, beside all that was placed. Private, whole.

    `orders` are each event's own, `shared` is the catalogue for all of them. Money is in whole units of the
    currency; every part is of whole smallest units, and all of them add up to the cost. `fee_parts` are each
    event's part of `fees`.
    """

    orders: tuple[Order, ...]
    shared: Shared
    rows: tuple[Joint, ...]
    fees: Mapping[str, Fraction]
    fee_parts: tuple[Mapping[str, Fraction], ...]
    missing: tuple[Thing, ...]
    late: tuple[Thing, ...]
    gap: Fraction

    @property
    def cost(self) -> Fraction:
        return total((*(one.row.cost for one in self.rows), *self.fees.values()))

    @property
    def alone(self) -> Fraction:
        """What the events' own orders would cost beside each other."""
        rows = (row.cost for order in self.orders for row in order.added)
        return total((*rows, *(fee for order in self.orders for fee in order.added_fees.values())))

    def cost_of(self, event: int) -> Fraction:
        """Give an event's part of the cost, by its index."""
        rows = (one.parts[event].cost for one in self.rows if event in one.parts)
        return total((*rows, *self.fee_parts[event].values()))


@dataclass(frozen=True, slots=True)
class _Bought:
    groups: tuple[Group, ...]
    purchases: Purchases

    @property
    def cost(self) -> Fraction:
        return self.purchases.cost

    def rows_of(self, group: Group) -> tuple[Purchase, ...]:
        return tuple(row for row in self.purchases.rows if row.lot.thing == group.key)


def together(orders: Sequence[Order], now: Shared, today: dt.date, buyer: Buyer = buy) -> Together:
    """Buy for the events of *orders* as one from the catalogue *now*, as it can still come on *today*.

    The cheapest of three ways: each stem in one for all whom a delivery suits; each event's stems by
    themselves, with deliveries and minimums shared; and in one but where buying apart was cheaper. So it
    never costs more than the events' own orders do beside each other, which count what is in stock each for
    itself, and here once.
    """
    asked = asked_of(orders, now, today)
    one, apart = _bought(asked, pooled(asked), buyer), _bought(asked, one_each(asked), buyer)
    mixed = _bought(asked, _cheaper(one, apart), buyer)
    best = min((one, mixed, apart), key=lambda way: (len(way.purchases.missing), way.cost))
    return _shared_out(asked, best)


def _bought(asked: Asked, groups: Iterable[Group], buyer: Buyer) -> _Bought:
    found = tuple(groups)
    return _Bought(found, solved(asked, found, buyer))


def _cheaper(one: _Bought, apart: _Bought) -> Iterable[Group]:
    """Part a group by who sold to whom, where they bought from different suppliers for less."""
    of = {(group.thing, group.takers[0]): group for group in apart.groups}
    for group in one.groups:
        alone = [of[group.thing, taker] for taker in group.takers]
        rows = [row for single in alone for row in apart.rows_of(single)]
        sellers = {frozenset(row.lot.supplier for row in apart.rows_of(single)) for single in alone}
        if len(sellers) > 1 and _cost(rows) < _cost(one.rows_of(group)):
            yield from alone
        else:
            yield group


def _cost(rows: Iterable[Purchase]) -> Fraction:
    return total(row.cost for row in rows)


def _shared_out(asked: Asked, best: _Bought) -> Together:
    """Round the whole once, then give each row and each fee its units, then each event its own of these."""
    money = asked.orders[0].priced.shared.currency
    bought = [(group, row) for group in best.groups for row in best.rows_of(group)]
    fees = best.purchases.deliveries
    exact = [*(row.cost for _, row in bought), *fees.values()]
    units = share(money.units(total(exact)), exact) if any(exact) else (0,) * len(exact)
    rows = tuple(
        _joint(asked, group, row, money.amount(n)) for (group, row), n in zip(bought, units, strict=False)
    )
    of_fees = dict(zip(fees, (money.amount(n) for n in units[len(bought) :]), strict=True))
    keys = {group.key: group.thing for group in best.groups}
    return Together(
        orders=asked.orders,
        shared=asked.shared,
        rows=rows,
        fees=of_fees,
        fee_parts=_fee_parts(money, len(asked.orders), rows, of_fees),
        missing=tuple(dict.fromkeys(keys[key] for key in best.purchases.missing)),
        late=tuple(dict.fromkeys(group.thing for group in best.groups if not group.in_time(asked.today))),
        gap=best.purchases.gap,
    )


def _joint(asked: Asked, group: Group, bought: Purchase, cost: Fraction) -> Joint:
    money = asked.orders[0].priced.shared.currency
    lot, day = group.real(bought.lot)
    row = Row(Purchase(lot, bought.packs), day)
    weights = [asked.exact[taker][group.thing] for taker in group.takers]
    whole = bought.amount.denominator == 1 and not group.by_length
    amounts: Sequence[Fraction | int]
    if whole:
        amounts = share(int(bought.amount), weights)
    else:
        amounts = [bought.amount * weight / total(weights) for weight in weights]
    costs = share(money.units(cost), weights)
    parts = {
        taker: Part(Fraction(amount), money.amount(n))
        for taker, amount, n in zip(group.takers, amounts, costs, strict=True)
    }
    return Joint(row, parts)


def _fee_parts(
    money: Currency, events: int, rows: Sequence[Joint], fees: Mapping[str, Fraction]
) -> tuple[Mapping[str, Fraction], ...]:
    """Share each delivery by what of it is whose, in money."""
    parts: list[dict[str, Fraction]] = [{} for _ in range(events)]
    for name, fee in fees.items():
        spent = [
            total(one.parts[i].cost for one in rows if i in one.parts and one.row.supplier == name)
            for i in range(events)
        ]
        for i, n in enumerate(share(money.units(fee), spent)):
            if spent[i]:
                parts[i][name] = money.amount(n)
    return tuple(parts)
