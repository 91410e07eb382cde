"""Plans: a cover for every line; what they use, cost and lack of minimums."""

from collections.abc import Iterator
from dataclasses import dataclass

from sitegen.order.buying.cover import Cover
from sitegen.order.buying.scaled import Asked, key


@dataclass(frozen=True, slots=True)
class Plan:
    """What could be bought, and its key with the fees of all sellers it uses."""

    covers: tuple[Cover, ...]
    key: int

    @property
    def used(self) -> int:
        """Give the sellers of whom anything is bought, a set of bits."""
        sellers = 0
        for cover in self.covers:
            for seller, _ in cover.spent:
                sellers |= 1 << seller
        return sellers

    @property
    def spent(self) -> dict[int, int]:
        """Give what is spent at each used seller, by number."""
        spent: dict[int, int] = {}
        for cover in self.covers:
            for seller, cost in cover.spent:
                spent[seller] = spent.get(seller, 0) + cost
        return spent


def plan(asked: Asked, covers: tuple[Cover, ...]) -> Plan:
    bare = Plan(covers, sum(cover.key for cover in covers))
    return Plan(covers, bare.key + fees(asked, bare.used))


def fees(asked: Asked, sellers: int) -> int:
    """Give what the fees of *sellers*, a set of bits, add to a key."""
    return key(sum(fee for i, fee in enumerate(asked.fees) if sellers >> i & 1), 0, 0, 0)


def lacking(asked: Asked, one: Plan) -> dict[int, int]:
    """Give by how much what is bought is below each used seller's minimum."""
    lacks = ((seller, asked.minimums[seller] - cost) for seller, cost in one.spent.items())
    return {seller: lack for seller, lack in lacks if lack > 0}


def asks(asked: Asked, bit: int) -> bool:
    """Tell whether a seller, by its bit, has a fee or a minimum."""
    seller = bit.bit_length() - 1
    return bool(asked.fees[seller] or asked.minimums[seller])


def bits(sellers: int) -> Iterator[int]:
    """Give the sellers of a set one by one, each as its bit."""
    return (1 << i for i in range(sellers.bit_length()) if sellers >> i & 1)
