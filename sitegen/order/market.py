"""The words of buying: what is wanted, what is sold as one, what each supplier asks, what is bought.

Knows no event, no date and no catalogue.
"""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property
from typing import Literal

from sitegen.values.number import total


@dataclass(frozen=True, slots=True)
class Thing:
    """What can be bought, by name; a stem and a good may share one."""

    kind: Literal["stem", "good"]
    id: str


@dataclass(frozen=True, slots=True)
class Want:
    """So much of a thing is to be there: stems, pieces, or metres with the cuts that must lie whole on rolls.

    *held* of it is in hand already; a length in hand is a roll like those that are
    bought. `mix` allows several suppliers for it.
    """

    thing: Thing
    amount: Fraction
    cuts: tuple[Fraction, ...] = ()
    mix: bool = False
    held: Fraction = Fraction(0)


@dataclass(frozen=True, slots=True)
class Lot:
    """What a supplier sells as one: *size* of a thing (stems, pieces, metres) for *price*.

    `breaks` are pairs: each costs that price once so many or more are bought.
    `index` is its place among the lots of its thing.
    """

    thing: Thing
    index: int
    supplier: str
    size: Fraction
    price: Fraction
    breaks: tuple[tuple[int, Fraction], ...] = ()

    def price_at(self, packs: int) -> Fraction:
        """Give the price of each when *packs* are bought."""
        reached = [(start, price) for start, price in self.breaks if start <= packs]
        return max(reached)[1] if reached else self.price


@dataclass(frozen=True, slots=True)
class Seller:
    """What a supplier asks for the whole order, on however many days it comes."""

    delivery: Fraction = Fraction(0)
    minimum: Fraction = Fraction(0)


@dataclass(frozen=True)
class Purchase:
    """So many packs of a lot. What they hold and cost is worked out once: every sheet sums it again."""

    lot: Lot
    packs: int

    @cached_property
    def amount(self) -> Fraction:
        return self.lot.size * self.packs

    @cached_property
    def cost(self) -> Fraction:
        return self.lot.price_at(self.packs) * self.packs


@dataclass(frozen=True, slots=True)
class Purchases:
    """What is bought in the order of the wants, each supplier's delivery fee, and what no lot covers.

    It is proven that nothing costs less, but where `gap` says by how much it could.
    """

    rows: tuple[Purchase, ...]
    deliveries: Mapping[str, Fraction]
    missing: tuple[Thing, ...] = ()
    gap: Fraction = Fraction(0)

    @property
    def cost(self) -> Fraction:
        return total((*(row.cost for row in self.rows), *self.deliveries.values()))

    def spent_at(self, supplier: str) -> Fraction:
        """Give what the packs from *supplier* cost, which is what its minimum counts."""
        return total(row.cost for row in self.rows if row.lot.supplier == supplier)


# Whatever decides what is bought, as `order.buy.buy` does; a memory of it can stand in its place.
Buyer = Callable[[Sequence[Want], Sequence[Lot], Mapping[str, Seller]], Purchases]
