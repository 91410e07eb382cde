"""What the florist has to know about an order before she sends it: warnings with their places."""

import datetime as dt
from collections.abc import Iterable, Iterator, Mapping, Sequence
from fractions import Fraction

from sitegen.order.lots import Coming
from sitegen.order.market import Buyer, Lot, Purchases, Thing
from sitegen.order.minimums import AboveNeed, Task, above_need
from sitegen.price.priced import PricedEvent
from sitegen.values.node import place_at
from sitegen.values.number import total
from sitegen.values.problem import Problem
from sitegen.values.when import MONTHS, WEEKDAYS

_NAMED = 6
_TELLING = 1000  # a gap of less than this part of the cost is told on the cost sheet alone


def notes(
    priced: PricedEvent,
    task: Task,
    bought: Purchases,
    on_sale: Sequence[Coming],
    today: dt.date,
    buyer: Buyer,
    *,
    first: bool = True,
) -> tuple[Problem, ...]:
    """Warn of what cannot come in time, of minimums above the need, and of an order not proven the least.

    *first* tells that nothing was placed before, so that *bought* is all there is.
    """
    return (
        *_too_late(priced, bought, on_sale, today),
        *_never_delivered(priced, on_sale),
        *(_above(priced, one) for one in above_need(task, bought, buyer)),
        *(_above_all(priced, task, bought) if first else ()),
        *_unproven(priced, bought),
    )


def below_minimum(priced: PricedEvent, short: Mapping[str, Fraction]) -> Iterator[Problem]:
    """Warn of suppliers at whom so little is left of a placed order that their minimum is not reached."""
    shared, money = priced.shared, priced.shared.currency
    for supplier, left in short.items():
        terms = shared.suppliers[supplier]
        least = money.text(money.units(terms.minimum))
        yield Problem(
            code="minimum-lost",
            place=place_at(shared.nodes.suppliers, (supplier, "minimum")),
            what=f"what is left of the order at {terms.name} comes to {money.text(money.units(left))}, below "
            f"its minimum of {least}",
            why="The order reached it when it was placed, and some of it is cancelled or does not come.",
            fix=f"ask {terms.name} whether they still bring the rest, or buy more there",
            severity="warning",
            event=priced.folder.id,
        )


def _too_late(
    priced: PricedEvent, bought: Purchases, on_sale: Sequence[Coming], today: dt.date
) -> Iterator[Problem]:
    """One warning for the event, however much can no longer come: it asks for one decision."""
    in_time = {one.lot.thing for one in on_sale if one.can_come(today)}
    late = {one.lot.thing for one in on_sale if one.arrival and one.lot.thing not in in_time}
    if not late:
        return
    things = [one.lot.thing for one in on_sale if one.lot.thing in late]
    yield Problem(
        code="order-too-late",
        place=place_at(priced.folder.node, ("date",)),
        what=f"nobody can bring in time: {_names(priced, dict.fromkeys(things))}",
        why="The last day to order has passed, so the order is made as if there were no lead days.",
        fix=f"{_ring(priced, bought, late)}, add one who is quicker, or swap the stem in the event",
        severity="warning",
        event=priced.folder.id,
    )


def _ring(priced: PricedEvent, bought: Purchases, late: set[Thing]) -> str:
    """Name whom to ask first: those who sell it for least."""
    suppliers = priced.shared.suppliers
    asked = dict.fromkeys(row.lot.supplier for row in bought.rows if row.lot.thing in late)
    ways = ((suppliers[name].name, suppliers[name].phone) for name in asked)
    told = [f"{name} ({phone})" if phone else name for name, phone in ways]
    return f"ring {', '.join(told) or 'the suppliers'}"


def _never_delivered(priced: PricedEvent, on_sale: Sequence[Coming]) -> Iterator[Problem]:
    """A warning for each supplier that brings nothing on any day on which something may come."""
    shared, day = priced.shared, priced.folder.event.date
    others = {one.lot.thing for one in on_sale if one.arrival}
    never: dict[str, dict[Thing, None]] = {}
    for one in on_sale:
        if one.arrival is None:
            never.setdefault(one.lot.supplier, {})[one.lot.thing] = None
    for supplier, things in never.items():
        alone = [thing for thing in things if thing not in others]
        delivers = shared.suppliers[supplier].delivers
        days = ", ".join(WEEKDAYS[i] for i in sorted(delivers or ()))
        yield Problem(
            code="delivery-never",
            place=place_at(
                shared.nodes.suppliers, (supplier, "delivers" if delivers is not None else "closed")
            ),
            what=f"{shared.suppliers[supplier].name} {f'delivers {days}' if days else 'is never open'}: "
            f"on no day when {_names(priced, things)} may arrive for a {WEEKDAYS[day.weekday()]}",
            why=f"Nobody else sells {_names(priced, alone)}, so it is ordered with its day to agree."
            if alone
            else "It is bought from others, who may be dearer.",
            fix="agree on another day with them and add it to delivers, or widen arrive at the stem"
            if days
            else "take the days on which they are open off closed",
            severity="warning",
            event=priced.folder.id,
        )


def _above(priced: PricedEvent, one: AboveNeed) -> Problem:
    shared, money = priced.shared, priced.shared.currency
    name, terms = shared.suppliers[one.supplier].name, shared.suppliers[one.supplier]
    extra = "; ".join(f"{_pack(priced, row.lot)} × {row.packs}" for row in one.extra[:_NAMED])
    month = MONTHS[priced.folder.event.date.month - 1]
    if one.without is None:
        why = f"Nobody else can bring {_names(priced, one.only_theirs)} in {month}."
    else:
        why = f"Without {name} the order would cost {money.text(money.units(one.without))} more."
    return Problem(
        code="minimum-above",
        place=place_at(shared.nodes.suppliers, (one.supplier, "minimum")),
        what=f"the minimum of {money.text(money.units(terms.minimum))} at {name} is above what is needed "
        f"from it, so more is bought: {extra}",
        why=why,
        fix=f"ask {name} to take a smaller order, which saves {money.text(money.units(one.saved))}; "
        "or order it together with another event",
        severity="warning",
        event=priced.folder.id,
    )


def _above_all(priced: PricedEvent, task: Task, bought: Purchases) -> Iterator[Problem]:
    """A supplier who sells what is needed, and whose minimum is above all of it: most often a slip."""
    shared, money = priced.shared, priced.shared.currency
    spent = total(row.cost for row in bought.rows)
    for name in dict.fromkeys(lot.supplier for lot in task.lots):
        least = task.sellers[name].minimum
        if least > spent > 0 and name not in bought.deliveries:
            yield Problem(
                code="minimum-above",
                place=place_at(shared.nodes.suppliers, (name, "minimum")),
                what=f"the minimum of {money.text(money.units(least))} at {shared.suppliers[name].name} "
                "is above all that is needed, so nothing is bought there",
                why=f"All that is bought for this event comes to {money.text(money.units(spent))}.",
                fix="look whether the figure is right; or order it together with another event",
                severity="warning",
                event=priced.folder.id,
            )


def _unproven(priced: PricedEvent, bought: Purchases) -> Iterator[Problem]:
    if bought.gap * _TELLING > bought.cost:
        money = priced.shared.currency
        yield Problem(
            code="order-unproven",
            place=place_at(priced.folder.node, ("date",)),
            what="this order is the cheapest that was found, and it was not proven that none is cheaper",
            why=f"Another could cost up to {money.text(money.units(bought.gap))} less. "
            "The search was stopped, so that it does not take minutes.",
            fix="leave it; or try fewer suppliers: sitegen order EVENT --without SUPPLIER",
            severity="warning",
            event=priced.folder.id,
        )


def _names(priced: PricedEvent, things: Iterable[Thing]) -> str:
    names = [_name(priced, thing) for thing in things]
    more = f" and {len(names) - _NAMED} more" if len(names) > _NAMED else ""
    return f"{'; '.join(names[:_NAMED])}{more}"


def _name(priced: PricedEvent, thing: Thing) -> str:
    shared = priced.shared
    return shared.stems[thing.id].name if thing.kind == "stem" else shared.goods[thing.id].name


def _pack(priced: PricedEvent, lot: Lot) -> str:
    """Name what is bought, with its length: a roll is sold in several."""
    packs = priced.shared.goods[lot.thing.id].packs if lot.thing.kind == "good" else ()
    length = packs[lot.index].length if lot.index < len(packs) else None
    return f"{_name(priced, lot.thing)}, {length}" if length else _name(priced, lot.thing)
