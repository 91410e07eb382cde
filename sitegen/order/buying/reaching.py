"""A plan that reaches its minimums, made from one that does not: good and quick, and not proven the best."""

from collections.abc import Iterator, Mapping
from fractions import Fraction

from sitegen.order.buying.cover import Cover, cover_of
from sitegen.order.buying.plans import Plan, bits, lacking, plan
from sitegen.order.buying.scaled import Asked, Line, cost_of
from sitegen.order.buying.ways import Ways

# What it costs for what it brings, its key, the line, and the line's new cover.
_Step = tuple[Fraction, int, int, Cover]


def reaching(ways: Ways, one: Plan) -> Plan:
    """Move lines to a seller that lacks something, or buy more there: what costs least for what it brings.

    Nothing is taken from a seller that would lack something then, so every
    step brings the whole nearer to the minimums.
    """
    while lacks := lacking(ways.asked, one):
        seller, lack = next(iter(lacks.items()))
        spent = one.spent
        steps = (
            step for at in range(len(one.covers)) for step in _steps(ways, one, (at, seller, lack), spent)
        )
        _, _, at, cover = min(steps, key=lambda step: step[:3])
        one = _with(ways, one, at, cover)
    return _trimmed(ways, one)


def _with(ways: Ways, one: Plan, at: int, cover: Cover) -> Plan:
    return plan(ways.asked, (*one.covers[:at], cover, *one.covers[at + 1 :]))


def _trimmed(ways: Ways, one: Plan) -> Plan:
    """Take back each line that does without what a minimum asked of it, now that others reach it."""
    for at, now in sorted(enumerate(one.covers), key=lambda cover: -cover[1].key):
        others = (ways.best(at, bit) for bit in bits(one.used & ways.sellers[at]))
        for other in sorted((other for other in others if other), key=lambda other: other.key):
            if other.key < now.key and not lacking(ways.asked, _with(ways, one, at, other)):
                one = _with(ways, one, at, other)
                break
    return one


def _steps(ways: Ways, one: Plan, to: tuple[int, int, int], spent: Mapping[int, int]) -> Iterator[_Step]:
    at, seller, lack = to
    line, now = ways.asked.lines[at], one.covers[at]
    theirs = dict(now.spent)
    if seller in theirs:
        for counts in _with_more(line, now, seller, theirs[seller] + lack):
            more = cover_of(line, counts)
            yield Fraction(cost_of(more.key) - cost_of(now.key), lack), more.key - now.key, at, more
    elif not line.want.mix and (other := ways.best(at, 1 << seller)):
        extra = cost_of(other.key) - cost_of(now.key) - _saved(ways.asked, theirs, spent)
        if all(
            spent[last] - cost >= ways.asked.minimums[last] or spent[last] == cost for last, cost in now.spent
        ):
            yield Fraction(extra, min(lack, cost_of(other.key))), other.key - now.key, at, other


def _saved(asked: Asked, theirs: Mapping[int, int], spent: Mapping[int, int]) -> int:
    """Give the fees of sellers of whom nothing else is bought."""
    return sum(asked.fees[seller] for seller, cost in theirs.items() if spent[seller] == cost)


def _with_more(line: Line, now: Cover, seller: int, wanted: int) -> Iterator[tuple[int, ...]]:
    """For each pack of *seller*, buy the fewest more with which the line comes to *wanted* there."""
    others = wanted - dict(now.spent)[seller]
    for i, (pack, has) in enumerate(zip(line.packs, now.counts, strict=True)):
        if pack.seller == seller:
            target = others + (pack.price(has) * has if has else 0)
            enough = (max(has + 1, start, -(-target // price)) for start, price in pack.tiers)
            more = min(n for n in enough if pack.price(n) * n >= target)
            yield (*now.counts[:i], more, *now.counts[i + 1 :])
