"""What the sheet is given that shares an order for several events out, as finished text."""

from dataclasses import dataclass

from sitegen.render.order_parts import Head


@dataclass(frozen=True, slots=True)
class SplitRow:
    """One event's part of a purchase; `placed` tells on which day it was bought, or from or to whom it went.

    What went to another event has an amount and a cost below zero.
    """

    name: str
    amount: str
    of: str
    supplier: str
    cost: str
    placed: str


@dataclass(frozen=True, slots=True)
class SplitEvent:
    """One event: its rows, its part of the deliveries, and what all of it comes to."""

    title: str
    day: str
    rows: tuple[SplitRow, ...]
    deliveries: str
    cost: str
    apart: str


@dataclass(frozen=True, slots=True)
class Split:
    """The whole, event by event. Stays in the studio. `apart` is empty where something was placed already."""

    head: Head
    lead: str
    symbol: str
    events: tuple[SplitEvent, ...]
    cost: str
    apart: str
