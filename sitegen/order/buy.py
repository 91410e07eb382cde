"""What to buy: wants and lots in, purchases out. Knows no event, no date and no catalogue.

The rule of this form: each thing is bought whole from the one lot that covers
it at least cost. `buy` is the seam; a search over all lots at once can stand
in its place, with the same types.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property
from math import ceil
from typing import Literal

from sitegen.order.rolls import lay, longer_than
from sitegen.values.number import total


@dataclass(frozen=True, slots=True)
class Thing:
    """What can be bought, by name; a stem and a good may share one."""

    kind: Literal["stem", "good"]
    id: str


@dataclass(frozen=True, slots=True)
class Want:
    """So much of a thing: stems, pieces, or metres with the cuts that must come from whole rolls.

    `mix` allows several suppliers for it.
    """

    thing: Thing
    amount: Fraction
    cuts: tuple[Fraction, ...] = ()
    mix: bool = False


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
    """What is bought in the order of the wants, each supplier's delivery fee, and what no lot covers."""

    rows: tuple[Purchase, ...]
    deliveries: Mapping[str, Fraction]
    missing: tuple[Thing, ...] = ()

    @property
    def cost(self) -> Fraction:
        return total((*(row.cost for row in self.rows), *self.deliveries.values()))


def buy(wants: Iterable[Want], lots: Iterable[Lot], sellers: Mapping[str, Seller]) -> Purchases:
    """Cover every want with whole packs of its cheapest lot.

    Never leaves a want short; what no lot covers is named in `missing`. The
    fee of each supplier that is used counts once, in the order of *sellers*.
    """
    rows: list[Purchase] = []
    missing: list[Thing] = []
    of_thing: dict[Thing, list[Lot]] = {}
    for lot in lots:
        of_thing.setdefault(lot.thing, []).append(lot)
    for want in wants:
        found = cheapest(want, of_thing.get(want.thing, []))
        if found is None:
            missing.append(want.thing)
        elif found.packs:
            rows.append(found)
    used = {row.lot.supplier for row in rows}
    fees = {name: seller.delivery for name, seller in sellers.items() if name in used}
    return Purchases(tuple(rows), fees, tuple(missing))


def below_minimum(purchases: Purchases, sellers: Mapping[str, Seller]) -> dict[str, Fraction]:
    """Give each supplier whose packs cost less than its minimum, and by how much."""
    bought = dict.fromkeys(purchases.deliveries, Fraction(0))
    for row in purchases.rows:
        bought[row.lot.supplier] += row.cost
    return {name: sellers[name].minimum - n for name, n in bought.items() if n < sellers[name].minimum}


def cheapest(want: Want, lots: Sequence[Lot]) -> Purchase | None:
    """Give the purchase from one of *lots* that covers *want* at least cost; None without lots.

    Buys up to a price break where that costs less. Ties go to the fewer spare
    stems, then to the first lot. A roll on which a cut does not fit whole is
    bought only where every roll is too short for it.
    """
    able = [lot for lot in lots if not (want.cuts and longer_than(want.cuts, lot.size))] or lots
    choices = [Purchase(lot, packs) for lot in able for packs in _counts(want, lot)]
    return min(choices, key=lambda bought: (bought.cost, bought.amount, bought.lot.index), default=None)


def _counts(want: Want, lot: Lot) -> list[int]:
    """Give the counts worth a look: the fewest packs that do, and where a break begins above that."""
    rolls = len(lay(want.cuts, lot.size)) if want.cuts else 0
    fewest = max(ceil(want.amount / lot.size), rolls)
    return [fewest, *(start for start, _ in lot.breaks if start > fewest > 0)]
