"""An order for several events in the shape of an order of one, so that every sheet reads it alike."""

import datetime as dt
from collections.abc import Iterable, Mapping
from dataclasses import replace
from fractions import Fraction
from math import ceil

from sitegen.model.content import PieceFile, Shared
from sitegen.order.lots import wants
from sitegen.order.market import Lot, Purchase
from sitegen.order.need import need
from sitegen.order.offered import with_bought
from sitegen.order.on_its_way import OnItsWay
from sitegen.order.order import Order
from sitegen.order.placed import Bought, Placed, Placing
from sitegen.order.placing import bought
from sitegen.order.row import Part, Row
from sitegen.order.together import Together
from sitegen.price.priced import PricedEvent
from sitegen.values.number import total


def joint_order(made: Together) -> Order:
    """Give what *made* buys, and all that was placed for its events, as one order.

    Its pieces are those of all events, each with its event's name; what is pulled stays in each event's own
    sheets, and is here only counted. Every part of what was bought as one is put together again.
    """
    was = [(bought(one.priced.shared, row), row) for one in made.orders for row in one.before.rows]
    gone = [(bought(one.priced.shared, row), row) for one in made.orders for row in one.before.cancelled]
    shared, lots = with_bought(made.shared, (known for known, _ in (*was, *gone)))
    before = OnItsWay(
        shared=shared,
        placings=_placings(was),
        rows=_united(zip((row for _, row in was), lots, strict=False)),
        cancelled=_united(zip((row for _, row in gone), lots[len(was) :], strict=True)),
        fees=_summed(one.before.fees for one in made.orders),
        waived=_summed(one.before.waived for one in made.orders),
        lost=frozenset(thing for one in made.orders for thing in one.before.lost),
        short={name: left for one in made.orders for name, left in one.before.short.items()},
    )
    added = tuple(one.row for one in made.rows)
    fees, rows = _summed((before.fees, made.fees)), (*before.rows, *added)
    portions = tuple(
        replace(one, id=_named(i, one.id)) for i, order in enumerate(made.orders) for one in order.portions
    )
    needed = need(portions, shared.stems, shared.goods, shared.studio.pricing.loss)
    return replace(
        made.orders[0],
        priced=_priced(made, shared),
        portions=portions,
        need=needed,
        rows=rows,
        deliveries=fees,
        missing=made.missing,
        late=made.late,
        sets={},
        pulled=tuple(block for order in made.orders for block in order.pulled),
        cost=total((*(row.cost for row in rows), *fees.values())),
        quoted=total(order.quoted for order in made.orders),
        problems=(),
        wanted=wants(needed, shared, made.orders[0].priced.folder.event.date),
        added=added,
        added_fees=made.fees,
        before=before,
        gap=made.gap,
    )


def _named(event: int, piece: str) -> str:
    return f"{event}/{piece}"


def _priced(made: Together, shared: Shared) -> PricedEvent:
    """All pieces under the first event's day, which is when the first of them is needed."""
    first = made.orders[0].priced
    pieces = tuple(
        replace(piece, file=_titled(piece.file, i, order.priced.folder.event.event))
        for i, order in enumerate(made.orders)
        for piece in order.priced.pieces
    )
    names = " + ".join(order.priced.folder.event.event for order in made.orders)
    event = first.folder.event.model_copy(update={"event": names})
    folder = replace(first.folder, event=event, pieces=tuple(piece.file for piece in pieces))
    return replace(first, shared=shared, folder=folder, pieces=pieces)


def _titled(file: PieceFile, event: int, name: str) -> PieceFile:
    piece = file.piece.model_copy(update={"piece": f"{file.piece.piece} ({name})"})
    return replace(file, id=_named(event, file.id), piece=piece)


def _united(rows: Iterable[tuple[Row, Lot]]) -> tuple[Row, ...]:
    """Put the parts of one purchase together: what was bought as one on a day, and comes on a day."""
    found: dict[tuple[object, ...], tuple[Row, Lot]] = {}
    for row, lot in rows:
        key = (lot.thing, lot.index, row.placed, row.arrival)
        known = found.get(key)
        amount = row.amount + (known[0].amount if known else 0)
        cost = row.cost + (known[0].cost if known else 0)
        packs = ceil(amount / lot.size)
        found[key] = (Row(Purchase(lot, packs), row.arrival, row.placed, Part(amount, cost)), lot)
    return tuple(row for row, _ in found.values())


def _placings(was: Iterable[tuple[Bought, Row]]) -> tuple[Placing, ...]:
    """What stays of all that was placed, by its day."""
    days: dict[dt.date, list[Bought]] = {}
    for known, row in was:
        if row.placed is not None:
            days.setdefault(row.placed, []).append(known)
    return tuple(Placing(day, Placed(_whole(days[day]))) for day in sorted(days))


def _whole(parts: Iterable[Bought]) -> tuple[Bought, ...]:
    found: dict[tuple[object, ...], Bought] = {}
    for part in parts:
        key = (part.kind, part.id, part.supplier, part.size, part.price, part.day)
        amount = part.amount + (found[key].amount if key in found else 0)
        found[key] = replace(part, amount=amount, packs=ceil(amount / part.size))
    return tuple(found.values())


def _summed(many: Iterable[Mapping[str, Fraction]]) -> dict[str, Fraction]:
    found: dict[str, Fraction] = {}
    for one in many:
        for name, amount in one.items():
            found[name] = found.get(name, Fraction(0)) + amount
    return found
