"""The best way to cover one line from some sellers: least cost, then spare stems, packs, catalogue places.

Exact, in whole numbers, without the solver.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import product
from math import floor, gcd

from sitegen.order.buying.mixes import looked_at
from sitegen.order.buying.scaled import Line, Pack

_MOST_STATES = 100_000


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
    ways = _rolls(line, packs) if line.cuts else _by_tiers(line.need, packs)
    best = min(ways, key=lambda way: way[0], default=None)
    if best is None:
        return None
    _, counts, exact = best
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


_Way = tuple[int, tuple[int, ...], bool]  # key, counts, whether nothing less was left out


def _key(packs: Sequence[Pack], counts: Sequence[int]) -> int:
    return sum(pack.key(n, pack.price(n)) for pack, n in zip(packs, counts, strict=True) if n)


def _rolls(line: Line, packs: Sequence[Pack]) -> Iterator[_Way]:
    """Give the best mix of rolls on which every cut lies whole."""
    for key, counts in sorted((_key(packs, mix), mix) for mix in looked_at(line, packs)):
        if line.lies_whole(packs, counts):
            yield key, counts, True
            return


def _by_tiers(need: int, packs: Sequence[Pack]) -> Iterator[_Way]:
    """Try every choice of a price for each pack; a lower one holds from so many on, so those are taken first.

    Nothing forbids many at the price of few: they are never dearer at their own, which is what is counted.
    """
    sizes, least = [pack.size for pack in packs], 0
    for tiers in product(*(pack.tiers for pack in packs)):
        first = [start for start, _ in tiers]
        keys = [pack.key(1, price) for pack, (_, price) in zip(packs, tiers, strict=True)]
        if least and sum(n * key for n, key in zip(first, keys, strict=True)) > least:
            continue
        rest = need - sum(size * n for size, n in zip(sizes, first, strict=True))
        more, exact = _fewest(rest, sizes, keys)
        counts = tuple(n + m for n, m in zip(first, more, strict=True))
        found = _key(packs, counts)
        least = min(least or found, found)
        yield found, counts, exact


def _fewest(rest: int, sizes: Sequence[int], keys: Sequence[int]) -> tuple[list[int], bool]:
    """Give the counts that come to *rest* or more with the least sum of *keys*; and whether it is proven."""
    counts = [0] * len(sizes)
    if rest <= 0:
        return counts, True
    common = gcd(*sizes)
    rest, sizes = -(-rest // common), [size // common for size in sizes]
    order = sorted(range(len(sizes)), key=lambda i: Fraction(keys[i], sizes[i]))
    best, others = order[0], order[1:]
    left = _for_others(best, others, sizes, keys)
    counts[best] = max(0, (rest - left) // sizes[best])
    if not others or rest - counts[best] * sizes[best] > _MOST_STATES:
        counts[best] = -(-rest // sizes[best])
        return counts, not others
    for i in _steps(rest - counts[best] * sizes[best], sizes, keys):
        counts[i] += 1
    return counts, True


def _for_others(best: int, others: Sequence[int], sizes: Sequence[int], keys: Sequence[int]) -> int:
    """Give how much packs other than the *best* for its size can hold in an answer; it makes up the rest.

    There are fewer of them than that size: among so many, some hold a multiple of it, and it could replace
    them for no more. And what they are dearer by is less than one pack, or the best alone would do better.
    """
    if not others:
        return 0
    many = (sizes[best] - 1) * max(sizes[i] for i in others)
    dearer = Fraction(keys[others[0]], sizes[others[0]]) - Fraction(keys[best], sizes[best])
    return min(many, floor(keys[best] / dearer)) if dearer else many


def _steps(rest: int, sizes: Sequence[int], keys: Sequence[int]) -> Iterator[int]:
    """Name the packs, one by one, that come to *rest* or more with the least sum of keys."""
    packs = list(zip(sizes, keys, range(len(sizes)), strict=True))
    least, last = [0], [0]
    for amount in range(1, rest + 1):
        best = -1
        for size, key, i in packs:
            found = (least[amount - size] if amount > size else 0) + key
            if best < 0 or found < best:
                best, by = found, i
        least.append(best)
        last.append(by)
    while rest > 0:
        yield last[rest]
        rest -= sizes[last[rest]]
