"""One line of an order."""

import datetime as dt
from dataclasses import dataclass
from fractions import Fraction
from math import ceil

from sitegen.order.buy import Purchase, Thing
from sitegen.order.calendar import Arrival


@dataclass(frozen=True, slots=True)
class Part:
    """How much of a purchase is one event's, and what of its cost."""

    amount: Fraction
    cost: Fraction


@dataclass(frozen=True, slots=True)
class Row:
    """So many packs, and when they come; no arrival where no delivery day suits.

    `placed` is the day on which they were bought, None for what is still to be ordered. `part` stands where
    not all of it is this event's, or where it costs something else than so many packs do.
    """

    bought: Purchase
    arrival: Arrival | None
    placed: dt.date | None = None
    part: Part | None = None

    @property
    def thing(self) -> Thing:
        return self.bought.lot.thing

    @property
    def supplier(self) -> str:
        return self.bought.lot.supplier

    @property
    def packs(self) -> int:
        """Packs that this event has to do with, whole or in part."""
        return ceil(self.part.amount / self.bought.lot.size) if self.part else self.bought.packs

    @property
    def amount(self) -> Fraction:
        """Stems, pieces or metres of it."""
        return self.part.amount if self.part else self.bought.amount

    @property
    def cost(self) -> Fraction:
        return self.part.cost if self.part else self.bought.cost
