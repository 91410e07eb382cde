"""What to buy: wants and lots in, purchases out, at the least cost there is.

`buy` is the seam. It knows no event, no date and no catalogue.
"""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from fractions import Fraction
from math import floor

from sitegen.order.buying.plans import Plan
from sitegen.order.buying.scaled import Asked, cost_of, scaled
from sitegen.order.buying.search import searched
from sitegen.order.buying.sets import tried
from sitegen.order.buying.ways import Ways
from sitegen.order.market import Lot, Purchase, Purchases, Seller, Thing, Want

__all__ = ["Lot", "Purchase", "Purchases", "Seller", "Thing", "Want", "buy"]


def buy(wants: Sequence[Want], lots: Sequence[Lot], sellers: Mapping[str, Seller]) -> Purchases:
    """Cover every want with whole packs at the least total cost, fees counted, minimums reached.

    A want is bought from one supplier unless it says `mix`. Whoever is bought
    from gets at least its minimum, if need be by buying more than is wanted;
    its fee counts once. Of what costs the same, the fewest spare stems are
    bought, then the fewest packs, then the earlier lots of the catalogue; where
    very many cost the same, the best by this rule that a search of set length
    finds. The same input gives the same answer with the same solver installed.
    Never leaves a want short; what no lot covers is named in `missing`.
    """
    asked = scaled(wants, lots, sellers)
    ways = Ways(asked)
    found = [ways.best(at, ways.every) is not None for at in range(len(asked.lines))]
    missing = tuple(line.want.thing for line, one in zip(asked.lines, found, strict=True) if not one)
    if missing:
        asked = replace(asked, lines=tuple(line for line, one in zip(asked.lines, found, strict=True) if one))
        ways = Ways(asked)
    first = tried(ways)
    best, gap = searched(ways, first) if first.open else (first.best, 0)
    if not ways.exact:
        gap = max(gap, cost_of(best.key) - _floor(asked))
    return _purchases(asked, best, missing, Fraction(gap, asked.over), sellers)


def _floor(asked: Asked) -> int:
    """Give what no order is below, with parts of packs and no fee."""
    lines = ((max(line.need, 0), line.packs) for line in asked.lines)
    least = (min(Fraction(need * pack.least_price, pack.size) for pack in packs) for need, packs in lines)
    return floor(sum(least))


def _purchases(
    asked: Asked, best: Plan, missing: tuple[Thing, ...], gap: Fraction, sellers: Mapping[str, Seller]
) -> Purchases:
    rows = (
        Purchase(pack.lot, n)
        for line, cover in zip(asked.lines, best.covers, strict=True)
        for pack, n in zip(line.packs, cover.counts, strict=True)
        if n
    )
    names = {name for i, name in enumerate(asked.sellers) if best.used >> i & 1}
    fees = {name: seller.delivery for name, seller in sellers.items() if name in names}
    return Purchases(tuple(rows), fees, missing, gap)
