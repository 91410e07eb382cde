"""Which suppliers to use, tried set by set, without the solver.

Once a set is chosen, every line is bought at its own best within it, unless a
minimum stands in the way. So each set has a sum that nothing bought from all of
it can be below; where the least of these sums reaches its minimums, it is the
order, proven in whole numbers. What is left open is for `search`.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from sitegen.order.buying.plans import Plan, asks, bits, fees, plan
from sitegen.order.buying.reaching import reaching
from sitegen.order.buying.scaled import Asked, cost_of, key
from sitegen.order.buying.ways import Ways

_MOST_TRIED = 10  # sellers that may be in or out: 1,024 sets


@dataclass(frozen=True, slots=True)
class Tried:
    """What trying gave: the best plan that reaches its minimums, and sets of sellers that could be better.

    `open` are such sets, each with the key of all best covers and its fees. Without any, `best` is
    proven. Whatever is better uses all sellers in `always`, and costs at least `least`.
    """

    best: Plan
    open: tuple[tuple[int, int], ...]
    always: int
    least: int = 0


def tried(ways: Ways) -> Tried:
    """Try the sets of sellers. Every line has a cover from some seller, or a `ValueError` is raised."""
    asked = ways.asked
    free = sum(bit for bit in bits(ways.every) if not asks(asked, bit))
    always = _always(ways)
    maybe = [bit for bit in bits(ways.every) if bit & ~(always | free)]
    if len(maybe) > _MOST_TRIED:
        return _all_at_once(ways, always)
    sets = [(sellers, _best(ways, sellers)) for sellers in _sets(always | free, maybe)]
    # A seller of whom nothing is best is no part of a best set: without it nothing gets dearer, and what is
    # bought of the others only grows.
    sums = sorted(
        ((one, sellers) for sellers, one in sets if one and not sellers & ~free & ~one.used),
        key=lambda pair: pair[0].key,
    )
    best: Plan | None = None
    for one, _ in sums:
        if best is None or one.key < best.key:
            best = min((one for one in (best, reaching(ways, one)) if one), key=lambda one: one.key)
    if best is None:
        raise ValueError("a line has no cover")
    left = [(sellers, one.key) for one, sellers in sums if _least(ways.asked, one) < best.key]
    least = min((_least(ways.asked, one) for one, _ in sums), default=best.key)
    in_all = ways.every & ~free
    for sellers, _ in left:
        in_all &= sellers
    return Tried(best, tuple(left), in_all, cost_of(least))


def _all_at_once(ways: Ways, always: int) -> Tried:
    """Give bounds where there are too many sets to try: nothing is below all best covers and sure fees."""
    one = _best(ways, ways.every)
    if one is None:
        raise ValueError("a line has no cover")
    best = reaching(ways, one)
    least = one.key - fees(ways.asked, one.used & ~always)
    return Tried(best, ((ways.every, least),) if least < best.key else (), always, cost_of(least))


def _best(ways: Ways, sellers: int) -> Plan | None:
    found = [ways.best(at, sellers) for at in range(len(ways.asked.lines))]
    covers = tuple(one for one in found if one is not None)
    return plan(ways.asked, covers) if len(covers) == len(found) else None


def _least(asked: Asked, one: Plan) -> int:
    """Give what no plan that uses just these sellers is below: fees, and best covers or all minimums."""
    minimums = sum(asked.minimums[bit.bit_length() - 1] for bit in bits(one.used))
    return max(one.key, fees(asked, one.used) + key(minimums, 0, 0, 0))


def _always(ways: Ways) -> int:
    """Name the sellers without whom some line has no cover."""
    lines = range(len(ways.asked.lines))
    without = ((bit, ways.every & ~bit) for bit in bits(ways.every))
    return sum(bit for bit, others in without if any(ways.best(at, others) is None for at in lines))


def _sets(always: int, maybe: Sequence[int]) -> Iterator[int]:
    for chosen in range(1 << len(maybe)):
        yield always | sum(bit for i, bit in enumerate(maybe) if chosen >> i & 1)
