"""`sitegen order EVENT --only` and `--without`: what other suppliers would cost. Nothing is written.

The order itself is the least cost over all suppliers, so what is chosen here never costs less; it may be
worth it for one trip less, or because somebody's stems were poor. With `--only`, what none of them sells
is bought elsewhere as before.
"""

import argparse
from dataclasses import dataclass

from sitegen.build.bought import buyer_of, open_ledger
from sitegen.build.event import Worked
from sitegen.build.quick import NoSuchEvent, Survey, one_of
from sitegen.cli.exits import DONE, USAGE, Stop, say, say_json
from sitegen.cli.recording import event_named, worked_out
from sitegen.order.market import Lot, Thing
from sitegen.order.order import Order, order_of
from sitegen.values.when import MONTHS


@dataclass(frozen=True, slots=True)
class Instead:
    """An event's order as it stands, and from chosen suppliers; `elsewhere` is what none of those sells."""

    event: str
    suppliers: tuple[str, ...]
    order: Order
    instead: Order
    elsewhere: tuple[Thing, ...]


def compare(options: argparse.Namespace, survey: Survey) -> int:
    """Say what the chosen suppliers would cost, for each event that was named."""
    found = [_instead(options, survey, event_named(survey, name)) for name in options.events]
    if options.json:
        say_json({"ok": True, "instead": [_as_json(one) for one in found]})
        return DONE
    for one in found:
        _say(one, only=bool(options.only))
    able = any(not one.instead.missing for one in found)
    how = " To buy so, take the other offers out of stems.yaml and goods.yaml." if able else ""
    say(f"Nothing was written.{how}")
    return DONE


def _instead(options: argparse.Namespace, survey: Survey, event: str) -> Instead:
    worked = worked_out(survey, event)
    suppliers, order = _chosen(options, worked), worked.order
    buyer, placings = buyer_of(open_ledger(survey.settings.home)), order.before.placings

    def bought(elsewhere: tuple[Thing, ...]) -> Order:
        def among(lot: Lot) -> bool:
            return lot.supplier in suppliers or lot.thing in elsewhere

        return order_of(worked.priced, order.portions, survey.settings.today, placings, buyer, among)

    other = bought(())
    elsewhere = other.missing if options.only else ()
    return Instead(event, suppliers, order, bought(elsewhere) if elsewhere else other, elsewhere)


def _chosen(options: argparse.Namespace, worked: Worked) -> tuple[str, ...]:
    known = tuple(worked.priced.shared.suppliers)
    only, without = (_named(given, known) for given in (options.only, options.without))
    if both := [name for name in known if name in only & without]:
        raise Stop(f"{', '.join(both)}: named with --only and with --without; which is meant?", USAGE)
    left = tuple(name for name in known if (not only or name in only) and name not in without)
    if not left:
        raise Stop("no supplier is left to buy from; name fewer with --without", USAGE)
    return left


def _named(given: str | None, known: tuple[str, ...]) -> frozenset[str]:
    try:
        names = (part.strip() for part in (given or "").split(","))
        return frozenset(one_of(name, known, "supplier") for name in names if name)
    except NoSuchEvent as unknown:
        raise Stop(str(unknown), USAGE) from None


def _say(one: Instead, *, only: bool) -> None:
    shared, money = one.order.priced.shared, one.order.priced.shared.currency
    event = one.order.priced.folder.event.event
    say(f"{event}: the order as it stands costs {_cost(one.order)} {money.code}, from {_used(one.order)}.")
    chosen = ", ".join(shared.suppliers[name].name for name in one.suppliers)
    if one.instead.missing:
        month, names = MONTHS[one.order.priced.folder.event.date.month - 1], _names(one, one.instead.missing)
        say(f"It cannot be bought so: in {month} nobody{'' if only else ' else'} sells {names}.")
        if not only:
            left = ",".join(one.suppliers)
            say(f"      To buy these there still, and all else from the others: --only {left}")
        return
    more = money.units(one.instead.cost) - money.units(one.order.cost)
    said = f"{money.text(more)} more" if more > 0 else f"{money.text(-more)} less" if more else "the same"
    how = "first" if one.elsewhere else "alone"
    say(f"With {chosen} {how} it costs {_cost(one.instead)}, {said}: {_used(one.instead)}.")
    if one.elsewhere:
        say(f"      from others as before, as they do not sell it: {_names(one, one.elsewhere)}")
    late = tuple(thing for thing in one.instead.late if thing not in one.order.late)
    if late:
        say(f"      they cannot bring it in time: {_names(one, late)}")
    for thing, was, now in _moved(one):
        say(f"      {_names(one, (thing,))}: {was} → {now}")


def _cost(order: Order) -> str:
    money = order.priced.shared.currency
    return money.text(money.units(order.cost))


def _used(order: Order) -> str:
    return ", ".join(order.priced.shared.suppliers[name].name for name in order.deliveries) or "nobody"


def _names(one: Instead, things: tuple[Thing, ...]) -> str:
    shared = one.order.priced.shared
    return "; ".join((shared.stems if of.kind == "stem" else shared.goods)[of.id].name for of in things)


def _moved(one: Instead) -> list[tuple[Thing, str, str]]:
    """Name what would come from another supplier, with both."""
    was, now = (_from(order) for order in (one.order, one.instead))
    return [(thing, was[thing], now[thing]) for thing in was if thing in now and was[thing] != now[thing]]


def _from(order: Order) -> dict[Thing, str]:
    found: dict[Thing, dict[str, None]] = {}
    for row in order.rows:
        found.setdefault(row.thing, {})[order.priced.shared.suppliers[row.supplier].name] = None
    return {thing: ", ".join(names) for thing, names in found.items()}


def _as_json(one: Instead) -> dict[str, object]:
    money = one.order.priced.shared.currency
    more = money.units(one.instead.cost) - money.units(one.order.cost)
    return {
        "event": one.event,
        "currency": money.code,
        "cost": _cost(one.order),
        "suppliers": list(one.suppliers),
        "instead": None if one.instead.missing else _cost(one.instead),
        "more": None if one.instead.missing else money.text(more),
        "missing": [{of.kind: of.id} for of in one.instead.missing],
        "elsewhere": [{of.kind: of.id} for of in one.elsewhere],
        "late": [{of.kind: of.id} for of in one.instead.late],
        "moved": [{thing.kind: thing.id, "from": was, "to": now} for thing, was, now in _moved(one)],
    }
