"""Made-up tasks of buying, the same for the same seed: small enough to be solved twice."""

import random
from fractions import Fraction

from sitegen.order.market import Lot, Purchase, Seller, Thing, Want

Task = tuple[list[Want], list[Lot], dict[str, Seller]]


def task(seed: int, most_stems: int = 12, most_sellers: int = 3) -> Task:
    """Draw stems, more often few than many, and what is sold of them.

    Sellers have fees and minimums, and one to three packs of a stem, some with breaks.
    """
    chance = random.Random(seed)
    names = [f"seller-{i}" for i in range(chance.randint(1, most_sellers))]
    asks = chance.choice((0, 1, 3))
    sellers = {
        name: Seller(Fraction(chance.randint(0, 25) * asks), Fraction(chance.randint(0, 60) * asks))
        for name in names
    }
    wants: list[Want] = []
    lots: list[Lot] = []
    for i in range(min(chance.randint(1, most_stems), chance.randint(1, most_stems))):
        thing = Thing("stem", f"stem-{i}")
        wants.append(Want(thing, Fraction(chance.randint(1, 40)), mix=chance.random() < 0.2))
        lots += _lots(chance, thing, chance.sample(names, chance.randint(1, len(names))))
    return wants, lots, sellers


def _lots(chance: random.Random, thing: Thing, names: list[str]) -> list[Lot]:
    lots: list[Lot] = []
    fair = chance.randint(40, 400)
    for name in sorted(names):
        for size in chance.sample((1, 5, 8, 10, 12, 20, 25), chance.choice((1, 1, 2, 3))):
            cents = max(2, fair * size * chance.randint(75, 130) // 100)
            least = cents * 4 // 5
            breaks = ((chance.randint(2, 5), Fraction(least, 100)),) if chance.random() < 0.15 else ()
            lots.append(Lot(thing, len(lots), name, Fraction(size), Fraction(cents, 100), breaks))
    return lots


def one_by_one(asked: Task) -> Fraction:
    """Buy each stem whole from its own cheapest offer; where a minimum is not reached, more of what is bought there."""
    wants, lots, sellers = asked
    rows = [
        min((_whole(want, lot) for lot in lots if lot.thing == want.thing), key=lambda row: row.cost)
        for want in wants
    ]
    cost = Fraction(0)
    for name in {row.lot.supplier for row in rows}:
        theirs = [row for row in rows if row.lot.supplier == name]
        spent = sum((row.cost for row in theirs), Fraction(0))
        cost += (
            sellers[name].delivery + min(_up_to(row, sellers[name].minimum - spent) for row in theirs) + spent
        )
    return cost


def _whole(want: Want, lot: Lot) -> Purchase:
    return Purchase(lot, -(-want.amount // lot.size))


def _up_to(row: Purchase, lacking: Fraction) -> Fraction:
    """What more of one lot costs that reaches what is lacking."""
    more = row.packs
    while Purchase(row.lot, more).cost - row.cost < lacking:
        more += 1
    return Purchase(row.lot, more).cost - row.cost
