"""The work of an event, planned: its days and its run sheet, made once for all that shows them."""

from dataclasses import dataclass

from sitegen.order.days import Days, days
from sitegen.order.order import Order
from sitegen.order.run import Stop, run
from sitegen.order.setting_out import SetOut, setting_out


@dataclass(frozen=True, slots=True)
class Plan:
    """What `days`, `run` and `setting_out` give for one order."""

    days: Days
    stops: tuple[Stop, ...]
    out: tuple[SetOut, ...]


def plan_of(order: Order) -> Plan:
    """Plan the days and the run sheet of *order*."""
    stops = run(order)
    return Plan(days(order), stops, setting_out(order, stops))
