"""What was really bought: the body of a record, and what of all records together is on its way.

A placing never changes; a later one adds to it or cancels packs of it. So that nothing of the catalogue is
needed to read it, each row says all that was known of its lot on the day.
"""

import datetime as dt
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from math import ceil

from sitegen.order.buy import Lot, Thing
from sitegen.values.length import Length


@dataclass(frozen=True, slots=True)
class Bought:
    """So many packs of a lot, `amount` of it (stems, pieces, metres) for this event at `cost`, exact.

    Where several events were bought for as one, the packs are all theirs, and amount and cost are this
    one's part. `price` is of one pack as the catalogue has it, `breaks` as in `Lot`; `day` is when it comes.
    `bought_for` names the event it was bought for on the day `since`, where this one took over what that one
    had to spare.
    """

    kind: str
    id: str
    name: str
    supplier: str
    supplier_name: str
    size: Fraction
    price: Fraction
    packs: int
    amount: Fraction
    cost: Fraction
    breaks: tuple[tuple[int, Fraction], ...] = ()
    length: Length | None = None
    about: bool = False
    sold_as: str | None = None
    day: dt.date | None = None
    order_by: dt.date | None = None
    bought_for: str | None = None
    since: dt.date | None = None

    @property
    def thing(self) -> Thing:
        return Thing("good" if self.kind == "good" else "stem", self.id)

    @property
    def whole(self) -> bool:
        """Whether all its packs are this event's, at what so many packs cost."""
        return self.amount == self.size * self.packs and self.cost == self._cost_of(self.packs)

    def lot(self, index: int = 0) -> Lot:
        return Lot(self.thing, index, self.supplier, self.size, self.price, self.breaks)

    def without(self, packs: int) -> "Bought":
        """Give what is left of it when so many packs are cancelled; fewer may cost more each."""
        left = self.packs - packs
        if not left:  # also of packs that are shared: nothing of them is this event's any more
            return replace(self, packs=0, amount=Fraction(0), cost=Fraction(0))
        if self.whole:
            cost = self._cost_of(left)
        else:  # what others have of it stays, and may differ by a cent from so many packs
            cost = max(self.cost - self.lot().price_at(self.packs) * packs, Fraction(0))
        return replace(self, packs=left, amount=self.amount - self.size * packs, cost=cost)

    def after(self, amount: Fraction, cost: Fraction) -> "Bought":
        """Give what is left of it when so much of it, and of its cost, is another event's."""
        left = self.amount - amount
        return replace(self, packs=ceil(left / self.size), amount=left, cost=self.cost - cost)

    def _cost_of(self, packs: int) -> Fraction:
        return self.lot().price_at(packs) * packs


@dataclass(frozen=True, slots=True)
class Cancelled:
    """So many packs of a row of an earlier placing, both counted from 0."""

    placing: int
    row: int
    packs: int


@dataclass(frozen=True, slots=True)
class Given:
    """So much of a row of an earlier placing, and of its cost, that *event* took over; counted as above."""

    placing: int
    row: int
    amount: Fraction
    cost: Fraction
    event: str


@dataclass(frozen=True, slots=True)
class Covered:
    """How much of a thing all placings so far were made for: stems, pieces, or metres and their cuts.

    `cuts` are metres and how many of that length, the longest first.
    """

    kind: str
    id: str
    amount: Fraction
    cuts: tuple[tuple[Fraction, int], ...] = ()


@dataclass(frozen=True, slots=True)
class Fee:
    """A supplier's delivery; below zero where it is no longer wanted."""

    supplier: str
    cost: Fraction


@dataclass(frozen=True, slots=True)
class Placed:
    """The body of a record: what was bought and cancelled on its day, and the need that is covered since.

    `given` is what other events took over of what this one had to spare; their records have it among `rows`.
    `together` holds what was recorded of the other events that were bought for as one: a run that was killed
    between two of them can be brought to its end.
    """

    rows: tuple[Bought, ...]
    cancelled: tuple[Cancelled, ...] = ()
    fees: tuple[Fee, ...] = ()
    covers: tuple[Covered, ...] = ()
    together: tuple["Other", ...] = ()
    given: tuple[Given, ...] = ()


@dataclass(frozen=True, slots=True)
class Unplaced:
    """The body of a record: the placed order of that number counts no more. It is not taken out."""

    record: int
    why: str = ""


@dataclass(frozen=True, slots=True)
class Other:
    """What was placed on the same day of another event."""

    event: str
    placed: Placed


@dataclass(frozen=True, slots=True)
class Placing:
    """A placed order and its day."""

    day: dt.date
    body: Placed


@dataclass(frozen=True, slots=True)
class Holding:
    """What is left of a row of a placing after all that was cancelled; `placing` and `row` count from 0."""

    placing: int
    row: int
    day: dt.date
    bought: Bought


def holdings(placings: Sequence[Placing]) -> tuple[Holding, ...]:
    """Give all that is on its way, the first placed first."""
    held = {
        (i, j): Holding(i, j, bought.since or placing.day, bought)
        for i, placing in enumerate(placings)
        for j, bought in enumerate(placing.body.rows)
    }
    for placing in placings:
        for gone in placing.body.cancelled:
            one = held[gone.placing, gone.row]
            held[gone.placing, gone.row] = replace(one, bought=one.bought.without(gone.packs))
        for given in placing.body.given:
            one = held[given.placing, given.row]
            held[given.placing, given.row] = replace(one, bought=one.bought.after(given.amount, given.cost))
    return tuple(one for one in held.values() if one.bought.amount)


def covered(placings: Sequence[Placing]) -> Mapping[Thing, Covered]:
    """Give what the last placing left covered."""
    last = placings[-1].body.covers if placings else ()
    return {Thing("good" if one.kind == "good" else "stem", one.id): one for one in last}


def fees_of(placings: Sequence[Placing]) -> dict[str, Fraction]:
    """Give each supplier's delivery as all placings leave it, the first placed first."""
    fees: dict[str, Fraction] = {}
    for placing in placings:
        for fee in placing.body.fees:
            fees[fee.supplier] = fees.get(fee.supplier, Fraction(0)) + fee.cost
    return fees
