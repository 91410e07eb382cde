"""What figures.json says of the days: deliveries, hire, days, run, packing; shapes stand in DEVELOPERS.md."""

import datetime as dt
from collections.abc import Iterable, Mapping
from fractions import Fraction
from typing import Any

from sitegen.order.days import Day, Days, kinds_of
from sitegen.order.deliveries import Delivery, deliveries
from sitegen.order.hire import spans_of
from sitegen.order.order import Order
from sitegen.order.packing import Load, packing
from sitegen.order.plan import Plan
from sitegen.order.run import Stop
from sitegen.order.run_steps import Step
from sitegen.order.strike import hire_of
from sitegen.order.trips import pieces_of
from sitegen.values.length import Length
from sitegen.values.number import decimal_text


def plan_figures(order: Order, plan: Plan) -> dict[str, Any]:
    """Give the figures of the days: minutes are decimal texts of one pair of hands, moments have no zone."""
    return {
        "deliveries": [_delivery(one) for one in deliveries(order)],
        "hire": _hire(order),
        "days": [_day(plan.days, day) for day in plan.days.days],
        "run": [_stop(stop) for stop in plan.stops],
        "packing": [_load(load) for load in packing(order, plan.stops)],
    }


def _moment(moment: dt.datetime | None) -> str | None:
    return moment.isoformat(timespec="minutes") if moment else None


def _date(day: dt.date | None) -> str | None:
    return day.isoformat() if day else None


def _minutes(minutes: Fraction) -> str:
    return decimal_text(minutes, 2)


def _delivery(one: Delivery) -> dict[str, Any]:
    arrival = one.arrival
    return {
        "supplier": one.supplier,
        "day": _date(arrival.day if arrival else None),
        "order_by": _date(arrival.order_by if arrival else None),
        "closed": _date(arrival.closed if arrival else None),
        "stems": {row.thing.id: int(row.amount) for row in one.stems},
        "goods": [row.thing.id for row in one.rows if row.thing.kind == "good"],
    }


def _hire(order: Order) -> list[dict[str, Any]]:
    spans, goods = spans_of(order), order.priced.shared.goods
    users: dict[str, list[str]] = {}
    for portion, _ in pieces_of(order):
        for good in hire_of(portion, order):
            users.setdefault(good, []).append(portion.id)
    return [
        {
            "good": good,
            "out": n,
            "owned": goods[good].owned,
            "from": spans[good][0].isoformat(),
            "until": spans[good][1].isoformat(),
            "pieces": users[good],
        }
        for good, n in order.need.hire.items()
    ]


def _day(days: Days, day: Day) -> dict[str, Any]:
    return {
        "day": day.day.isoformat(),
        "minutes": {kind: _minutes(minutes) for kind, minutes in kinds_of(day).items() if minutes},
        "total": _minutes(day.total),
        "capacity": _minutes(days.capacity) if days.capacity is not None else None,
        "tasks": [
            {"what": task.what, "about": task.about, "count": task.count, "minutes": _minutes(task.minutes)}
            for task in day.tasks
        ],
    }


def _stop(stop: Stop) -> dict[str, Any]:
    return {
        "place": stop.id or None,
        "day": stop.day.isoformat(),
        "arrives": _moment(stop.arrives),
        "done": _moment(stop.done),
        "late": stop.late,
        "steps": [_step(step) for step in stop.steps],
    }


def _step(step: Step) -> dict[str, Any]:
    return {
        "kind": step.kind,
        "at": _moment(step.at),
        "pieces": {item.piece: item.copies for item in step.items if item.piece},
        "hire": _sums(item.hire for item in step.items),
        "minutes": _minutes(step.minutes),
        "hands": step.hands,
        "other": step.other.id if step.other else None,
    }


def _sums(counts: Iterable[Mapping[str, int]]) -> dict[str, int]:
    found: dict[str, int] = {}
    for count in counts:
        for good, n in count.items():
            found[good] = found.get(good, 0) + n
    return found


def _load(load: Load) -> dict[str, Any]:
    return {
        "place": load.stop.id or None,
        "boxes": [
            {
                "box": one.box.number,
                "piece": one.box.piece,
                "first": one.box.first,
                "last": one.box.last,
                "part": one.box.part,
                "parts": one.box.parts,
            }
            for one in load.boxes
        ],
        "loose": {item.piece: item.copies for item in load.loose},
        "hire": dict(load.hire),
        "goods": {
            good: str(amount) if isinstance(amount, Length) else decimal_text(amount)
            for good, amount in load.goods.items()
        },
        "home": dict(load.home),
    }
