"""Which counts of rolls of several lengths are worth a look, for cuts that must lie whole on them."""

from collections.abc import Iterator, Sequence
from itertools import product
from math import prod

from sitegen.order.buying.scaled import Line, Pack
from sitegen.order.rolls import first_fit

_MOST_MIXES = 5_000


def looked_at(line: Line, packs: Sequence[Pack]) -> Iterator[tuple[int, ...]]:
    """Give the mixes of up to as many rolls as do alone, or have a lower price.

    Where those are very many, only rolls of one length are looked at.
    """
    choices = [_choices(line, pack) for pack in packs]
    if prod(map(len, choices)) <= _MOST_MIXES:
        return product(*choices)
    alone = [(at, n) for at, counts in enumerate(choices) for n in counts]
    return (tuple(n if i == at else 0 for i in range(len(choices))) for at, n in alone)


def mixes(line: Line, sellers: int) -> list[tuple[int, ...]]:
    """Give the counts of a line's rolls from *sellers* on which every cut lies whole, with none to spare."""
    packs = [pack for pack in line.packs if sellers >> pack.seller & 1]
    found: list[tuple[int, ...]] = []
    for mix in sorted(looked_at(line, packs), key=sum):
        spare = any(all(n <= m for n, m in zip(less, mix, strict=True)) for less in found)
        if not spare and line.lies_whole(packs, mix):
            found.append(mix)
    given = [iter(mix) for mix in found]
    return [tuple(next(of) if sellers >> pack.seller & 1 else 0 for pack in line.packs) for of in given]


def _choices(line: Line, pack: Pack) -> list[int]:
    """Count up to so many rolls as do beside the one in hand, or where a lower price begins above that.

    Where a cut is longer than both, as many as come to the need.
    """
    left = [line.held]
    laid = first_fit(line.cuts, left, pack.size)
    all_lie = sum(map(len, laid)) == len(line.cuts)
    most = max(-(-line.need // pack.size), len(laid) - 1 if all_lie else 0, 0)
    return [*range(most + 1), *(start for start, _ in pack.tiers if start > most)]
