"""What is left of a proposal after materials, and after hands."""

from dataclasses import dataclass
from fractions import Fraction

from sitegen.choices.totals import Totals
from sitegen.order.order import Order
from sitegen.order.work import hours
from sitegen.values.money import share
from sitegen.values.number import total


@dataclass(frozen=True, slots=True)
class Left:
    """In smallest units: the proposal without tax, and what the order takes of it, in three parts."""

    before_tax: int
    stems: int
    goods: int
    deliveries: int

    @property
    def after_materials(self) -> int:
        return self.before_tax - self.stems - self.goods - self.deliveries


def left_of(totals: Totals, order: Order) -> Left:
    """Subtotal less discount plus charges, without tax also where it is contained, less the order's cost.

    The order is rounded once; its parts add up to it.
    """
    before_tax = totals.total - sum(totals.tax)
    parts = [
        total(row.cost for row in order.rows if row.thing.kind == "stem"),
        total(row.cost for row in order.rows if row.thing.kind == "good"),
        total(order.deliveries.values()),
    ]
    cost = order.priced.shared.currency.units(order.cost)
    stems, goods, deliveries = share(cost, parts) if order.cost else (0, 0, 0)
    return Left(before_tax, stems, goods, deliveries)


@dataclass(frozen=True, slots=True)
class Hands:
    """Hours of hands, what one of them is paid, and what they come to in smallest units."""

    hours: Fraction
    pay: Fraction
    cost: int


def hands_of(order: Order) -> Hands | None:
    """Give the hands that an event takes; None where the crew's pay is not known."""
    crew = order.priced.terms.crew
    if crew is None or crew.pay is None:
        return None
    worked = hours(order)
    return Hands(worked, crew.pay, order.priced.shared.currency.units(worked * crew.pay))
