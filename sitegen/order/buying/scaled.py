"""Wants and lots in whole numbers, so that thousands of sums and comparisons are exact and quick.

Money counts in equal parts of its own for the whole order, each want's amounts in parts of theirs.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import reduce
from math import lcm
from operator import or_

from sitegen.order.market import Lot, Seller, Thing, Want
from sitegen.order.rolls import first_fit
from sitegen.values.number import in_parts

_FIELD = 64  # bits: more than any sum of stems, packs or places comes to
_LOW = (1 << _FIELD) - 1


def key(cost: int, stems: int, packs: int, places: int) -> int:
    """Put what orders two purchases into one number: cost first, then stems, packs and catalogue places.

    Keys add up as their parts do, and the lesser key is the better purchase.
    """
    return ((cost << _FIELD | stems) << _FIELD | packs) << _FIELD | places


def cost_of(key: int) -> int:
    return key >> 3 * _FIELD


def parts_of(key: int) -> tuple[int, int, int, int]:
    """Give cost, stems, packs and places of a key."""
    return key >> 3 * _FIELD, key >> 2 * _FIELD & _LOW, key >> _FIELD & _LOW, key & _LOW


@dataclass(frozen=True, slots=True)
class Pack:
    """A lot in whole numbers. `tiers` are (from so many on, price of each), the first from none on."""

    lot: Lot
    seller: int
    size: int
    tiers: tuple[tuple[int, int], ...]

    def price(self, packs: int) -> int:
        """Give the price of each when *packs* are bought."""
        return next(price for start, price in reversed(self.tiers) if start <= packs)

    @property
    def least_price(self) -> int:
        return min(price for _, price in self.tiers)

    def key(self, packs: int, price: int) -> int:
        """Say what *packs* at *price* each add to an order's key; only stems count as spare."""
        stems = self.size * packs if self.lot.thing.kind == "stem" else 0
        return key(price * packs, stems, packs, self.lot.index * packs)


@dataclass(frozen=True, slots=True)
class Line:
    """A want in whole numbers, and the packs that could cover it, as the catalogue lists them.

    `need` is what is to be bought of it. All `cuts` must lie whole on what is bought and on the roll `held`.
    """

    want: Want
    need: int
    cuts: tuple[int, ...]
    held: int
    packs: tuple[Pack, ...]

    @property
    def in_hand(self) -> bool:
        return self.lies_whole((), ())

    @property
    def sellers(self) -> int:
        """Give who sells it, a set of bits."""
        return reduce(or_, (1 << pack.seller for pack in self.packs), 0)

    def lies_whole(self, packs: Sequence[Pack], counts: Sequence[int]) -> bool:
        """Tell whether so many rolls come to the need, and every cut lies whole on one of them."""
        sizes = [pack.size for pack, n in zip(packs, counts, strict=True) for _ in range(n)]
        left = sorted((*sizes, self.held), reverse=True)
        return sum(sizes) >= self.need and sum(map(len, first_fit(self.cuts, left))) == len(self.cuts)


@dataclass(frozen=True, slots=True)
class Asked:
    """The whole task: lines, and the sellers' names, fees and minimums by number; *over* parts make one."""

    lines: tuple[Line, ...]
    sellers: tuple[str, ...]
    fees: tuple[int, ...]
    minimums: tuple[int, ...]
    over: int


def scaled(wants: Sequence[Want], lots: Sequence[Lot], sellers: Mapping[str, Seller]) -> Asked:
    """Bring a task into whole numbers. What is in hand already is no line; one without packs may be."""
    names = tuple(dict.fromkeys((*sellers, *sorted({lot.supplier for lot in lots}))))
    terms = [sellers.get(name, Seller()) for name in names]
    over = lcm(
        *(price.denominator for lot in lots for price in (lot.price, *(price for _, price in lot.breaks))),
        *(amount.denominator for one in terms for amount in (one.delivery, one.minimum)),
    )
    of_thing: dict[Thing, list[Lot]] = {}
    for lot in sorted(lots, key=lambda lot: lot.index):
        of_thing.setdefault(lot.thing, []).append(lot)
    numbers = {name: i for i, name in enumerate(names)}
    lines = (_line(want, of_thing.get(want.thing, []), numbers, over) for want in wants)
    return Asked(
        lines=tuple(line for line in lines if not line.in_hand),
        sellers=names,
        fees=tuple(int(one.delivery * over) for one in terms),
        minimums=tuple(int(one.minimum * over) for one in terms),
        over=over,
    )


def _line(want: Want, lots: Sequence[Lot], numbers: Mapping[str, int], over: int) -> Line:
    (amount, held, *rest), _ = in_parts([want.amount, want.held, *want.cuts, *(lot.size for lot in lots)])
    cuts, sizes = rest[: len(want.cuts)], rest[len(want.cuts) :]
    longest = max((*sizes, held), default=0)
    both = zip(lots, sizes, strict=True)
    packs = (Pack(lot, numbers[lot.supplier], size, _tiers(lot, over)) for lot, size in both)
    # What is longer than every roll has to be joined, wherever it is bought.
    return Line(want, amount - held, tuple(cut for cut in cuts if cut <= longest), held, tuple(packs))


def _tiers(lot: Lot, over: int) -> tuple[tuple[int, int], ...]:
    return ((0, int(lot.price * over)), *((start, int(price * over)) for start, price in sorted(lot.breaks)))
