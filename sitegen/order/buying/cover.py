"""The best way to cover one line from some sellers: least cost, then spare stems, packs, catalogue places.

Exact, in whole numbers, without the solver.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import floor, gcd

from sitegen.order.buying.mixes import looked_at
from sitegen.order.buying.scaled import Line, Pack

_MOST_STATES = 300_000  # amounts times packs
_NEVER = 1 << 300  # above every key


@dataclass(frozen=True, slots=True)
class Cover:
    """How many of each of a line's packs, what that adds to the order's key, and what each seller gets.

    *exact* tells that nothing has a lesser key; else it is the best that was looked at.
    """

    counts: tuple[int, ...]
    key: int
    spent: tuple[tuple[int, int], ...]
    exact: bool = True


def cover(line: Line, sellers: int) -> Cover | None:
    """Cover *line* from the packs of *sellers*, a set of bits by their numbers; None where they cannot."""
    packs = [pack for pack in line.packs if sellers >> pack.seller & 1]
    if not packs:
        return None
    best = _rolls(line, packs) if line.cuts else _fewest(line.need, packs)
    if best is None:
        return None
    counts, exact = best
    given = iter(counts)
    spread = tuple(next(given) if sellers >> pack.seller & 1 else 0 for pack in line.packs)
    return cover_of(line, spread, exact=exact)


def cover_of(line: Line, counts: tuple[int, ...], *, exact: bool = True) -> Cover:
    """Say what *counts* of a line's packs come to, all of a pack at the price that so many have."""
    key, spent = 0, dict[int, int]()
    for pack, n in zip(line.packs, counts, strict=True):
        if n:
            price = pack.price(n)
            key += pack.key(n, price)
            spent[pack.seller] = spent.get(pack.seller, 0) + price * n
    return Cover(counts, key, tuple(spent.items()), exact)


def _rolls(line: Line, packs: Sequence[Pack]) -> tuple[tuple[int, ...], bool] | None:
    """Give the best mix of rolls on which every cut lies whole."""
    for _, counts in sorted((_key(packs, mix), mix) for mix in looked_at(line, packs)):
        if line.lies_whole(packs, counts):
            return counts, True
    return None


def _key(packs: Sequence[Pack], counts: Sequence[int]) -> int:
    return sum(pack.key(n, pack.price(n)) for pack, n in zip(packs, counts, strict=True) if n)


@dataclass(frozen=True, slots=True)
class _Sold:
    """A pack by its size, in parts common to all, with what one adds to the key from so many on."""

    size: int
    tiers: tuple[tuple[int, int], ...]

    @property
    def least(self) -> int:
        return min(key for _, key in self.tiers)


def _fewest(need: int, packs: Sequence[Pack]) -> tuple[tuple[int, ...], bool]:
    """Give the counts that come to *need* or more with the least key; and whether that is proven."""
    if need <= 0:
        return (0,) * len(packs), True
    common = gcd(*(pack.size for pack in packs))
    sold = [
        _Sold(pack.size // common, tuple((start, pack.key(1, price)) for start, price in pack.tiers))
        for pack in packs
    ]
    rest = -(-need // common)
    order = sorted(range(len(sold)), key=lambda i: Fraction(sold[i].least, sold[i].size))
    best, others = order[0], [sold[i] for i in order[1:]]
    sure = (rest - _for_others(sold[best], others)) // sold[best].size
    if sure < max(start for start, _ in sold[best].tiers):
        sure = 0
    else:  # so many of it have its least price by themselves
        sold[best] = _Sold(sold[best].size, ((0, sold[best].least),))
    rest -= sure * sold[best].size
    if rest * len(sold) > _MOST_STATES:
        alone = sure - (-rest // sold[best].size)
        return tuple(alone if i == best else 0 for i in range(len(sold))), False
    counts = _counts(rest, sold)
    counts[best] += sure
    return tuple(counts), True


def _for_others(best: _Sold, others: Sequence[_Sold]) -> int:
    """Give how much packs other than the *best* for its size can hold in an answer; it makes up the rest.

    Beyond those that a lower price needs, there are fewer of them than that size: among so many, some hold a
    multiple of it, and it could replace them for no more. And what they are dearer by is less than one pack,
    or the best alone would do better.
    """
    if not others:
        return 0
    many = (best.size - 1) * max(one.size for one in others)
    many += sum(one.size * max(start for start, _ in one.tiers) for one in others)
    dearer = Fraction(others[0].least, others[0].size) - Fraction(best.least, best.size)
    return min(many, floor(best.least / dearer)) if dearer else many


def _counts(rest: int, sold: Sequence[_Sold]) -> list[int]:
    """Count each pack so that all come to *rest* or more with the least key; pack after pack joins in."""
    least, taken = [0, *(_NEVER for _ in range(rest))], []
    for one in sold:
        (keys, numbers), *others = (_joined(least, one.size, *tier) for tier in one.tiers)
        for lower, more in others:
            for amount, key in enumerate(lower):
                if key < keys[amount]:
                    keys[amount], numbers[amount] = key, more[amount]
        least = keys
        taken.append(numbers)
    counts = []
    for one, numbers in zip(reversed(sold), reversed(taken), strict=True):
        counts.append(numbers[rest])
        rest = max(0, rest - numbers[rest] * one.size)
    return counts[::-1]


def _joined(least: list[int], size: int, start: int, key: int) -> tuple[list[int], list[int]]:
    """Give the least key for each amount where *start* or more of a pack join in, and how many do."""
    keys, off = least.copy(), min(start * size, len(least))
    if start:
        keys = [one + start * key for one in (*(least[0] for _ in range(off)), *least[: len(least) - off])]
    numbers = [start] * len(keys)
    for amount in range(1, len(keys)):
        before = amount - size if amount > size else 0
        more = keys[before] + key
        if more < keys[amount]:
            keys[amount] = more
            numbers[amount] = numbers[before] + 1
    return keys, numbers
