"""Several events bought for as one order, and what of it is whose.

What all of them take of a stem is summed first, then the loss is added, then stems are rounded up, and whole
bunches are bought. Where no delivery suits all who take it, it is bought for those whom one suits. What was
placed for one of them, and is to spare there, serves the others first.
"""

import datetime as dt
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction

from sitegen.model.content import Shared
from sitegen.order.asked import Asked, asked_of
from sitegen.order.buy import buy
from sitegen.order.market import Buyer, Purchase, Purchases, Thing
from sitegen.order.order import Order
from sitegen.order.passing import Passed, less_passed, passed_on
from sitegen.order.pooling import Group, one_each, pooled, solved
from sitegen.order.row import Part, Row
from sitegen.order.standing import standing
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

    `orders` are each event's own, with what of them stays now; `shared` is the catalogue for all of them.
    Money is in whole units of the currency; every part is of whole smallest units, and all of them add up to
    the cost. `fee_parts` are each event's part of `fees`. `passed` is what one has to spare and another takes
    over: it costs nothing more, and is no part of `cost`.
    """

    orders: tuple[Order, ...]
    shared: Shared
    rows: tuple[Joint, ...]
    fees: Mapping[str, Fraction]
    fee_parts: tuple[Mapping[str, Fraction], ...]
    missing: tuple[Thing, ...]
    late: tuple[Thing, ...]
    gap: Fraction
    passed: tuple[Passed, ...]

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
    asked: Asked
    passed: tuple[Passed, ...]
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
    themselves, with deliveries and minimums shared; and in one but where buying apart was cheaper. Before
    that, what was placed and is to spare serves whom it suits; all of it, or where that is cheaper only what
    binds nobody to a grower. So it never costs more than the events' own orders do beside each other, which
    count what is in stock each for itself, and here once.
    """
    asked = asked_of(orders, now, today)
    passes = dict.fromkeys(passed_on(asked, harmless=harmless) for harmless in (False, True))
    ways = [way for passed in passes for way in _ways(asked, passed, buyer)]
    best = min(ways, key=lambda way: (len(way.purchases.missing), way.cost))
    return _shared_out(best)


def _ways(whole: Asked, passed: tuple[Passed, ...], buyer: Buyer) -> tuple[_Bought, ...]:
    asked = less_passed(whole, passed)

    def bought(groups: Iterable[Group]) -> _Bought:
        found = tuple(groups)
        return _Bought(asked, passed, found, solved(asked, found, buyer))

    one, apart = bought(pooled(asked)), bought(one_each(asked))
    return one, bought(_cheaper(one, apart)), apart


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


def _shared_out(best: _Bought) -> Together:
    """Round the whole once, then give each row and each fee its units, then each event its own of these."""
    asked = best.asked
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
        orders=standing(asked.orders, best.passed, [one.row for one in rows], asked.today),
        shared=asked.shared,
        rows=rows,
        fees=of_fees,
        fee_parts=_fee_parts(money, len(asked.orders), rows, of_fees),
        missing=tuple(dict.fromkeys(keys[key] for key in best.purchases.missing)),
        late=tuple(dict.fromkeys(group.thing for group in best.groups if not group.in_time(asked.today))),
        gap=best.purchases.gap,
        passed=best.passed,
    )


def _joint(asked: Asked, group: Group, bought: Purchase, cost: Fraction) -> Joint:
    money = asked.orders[0].priced.shared.currency
    lot, day = group.real(bought.lot)
    row = Row(Purchase(lot, bought.packs), day)
    weights = [asked.weight(group.thing, taker) for taker in group.takers]
    if not any(weights):
        weights = [Fraction(1)] * len(weights)
    whole = bought.amount.denominator == 1 and not group.by_length
    amounts: Sequence[Fraction | int]
    if whole:
        pulled = [asked.whole[taker][group.thing] - asked.held(group.thing, taker) for taker in group.takers]
        amounts = _at_least(share(int(bought.amount), weights), pulled)
    else:
        amounts = [bought.amount * weight / total(weights) for weight in weights]
    paying = [weight if amount else Fraction(0) for weight, amount in zip(weights, amounts, strict=True)]
    costs = share(money.units(cost), paying if any(paying) else amounts)
    parts = {
        taker: Part(Fraction(amount), money.amount(n))
        for taker, amount, n in zip(group.takers, amounts, costs, strict=True)
    }
    return Joint(row, parts)


def _at_least(amounts: Sequence[int], pulled: Sequence[Fraction]) -> list[int]:
    """Give a stem more to whom one less than is pulled would fall, of whoever has most beyond that."""
    found = list(amounts)
    for _ in range(sum(found)):
        beyond = [n - least for n, least in zip(found, pulled, strict=True)]
        least, most = min(beyond), max(beyond)
        if least >= 0 or most < 1:
            break
        found[beyond.index(most)] -= 1
        found[beyond.index(least)] += 1
    return found


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
