"""The search: an integer program, checked with the exact total, cut off where it fails, solved again.

Where the exact total of a solution is not what the straight lines promise, its subtotal is cut out of the
span: below it, above it, at it. At one subtotal the program is exact.
"""

from bisect import bisect_right
from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction
from math import ceil, floor, gcd

from sitegen.choices.totals import total_of
from sitegen.fit.asked import Ask, Reached, Setting, reached
from sitegen.fit.program import Row, program_of, row_of, sums_of, ways_at
from sitegen.fit.straight import Span, spans, straight
from sitegen.solve.solve import Unsolved, solve

_NODES = 5_000  # of each search, far more than an event takes; what needs more is said to be unproven


@dataclass(frozen=True, slots=True)
class Found:
    """The best that was found, None where nothing fits; *proven* where nothing better is left."""

    best: Reached | None
    proven: bool = True


@dataclass(frozen=True, slots=True)
class _Solved:
    """The best of a span by the straight lines, the total that they promise, and whether it is proven."""

    now: Reached
    promised: int
    proven: bool


def search(setting: Setting, ask: Ask, start: Reached | None = None) -> Found:
    """Give the best of all that *ask* allows. *start* is allowed, and stands where none is better."""
    best, proven, row = start, True, row_of(setting)
    waiting = list(spans(setting.table, setting.charges, setting.span))
    while waiting:
        span = _narrowed(setting, row, ask, waiting.pop(), best)
        if span is None:
            continue
        try:
            found = _solved(setting, row, ask, span, best)
        except Unsolved:
            proven = False
            continue
        if found is None:
            continue
        proven = proven and found.proven
        if ask.allows(found.now) and _better(ask, found.now, found.now.total, best):
            best = found.now
        if not span.single and _better(ask, found.now, found.promised, best):
            waiting += _cut(span, found.now.subtotal)
    return Found(best, proven)


def _better(ask: Ask, now: Reached, total: int, best: Reached | None) -> bool:
    return best is None or ask.key(now, total) < ask.key(best, best.total)


def _cut(span: Span, at: int) -> Iterator[Span]:
    """Part *span* at a subtotal in it; what comes last is looked at first."""
    if span.least < at:
        yield Span(span.least, at - 1)
    if at < span.most:
        yield Span(at + 1, span.most)
    yield Span(at, at)


def _solved(setting: Setting, row: Row, ask: Ask, span: Span, best: Reached | None) -> _Solved | None:
    """Solve the program of a span; None where nothing in it fits. Raises `Unsolved`."""
    sums = sums_of(row, straight(setting.table, setting.charges, span))
    taxable = _most_taxable(setting, ask, span)
    if taxable is not None and taxable < 0:
        return None
    program = program_of(row, ask, span, sums, best, taxable)
    answer = solve(program, nodes=_NODES)
    if answer is None:
        return None
    low, high = (one.of(answer.values) for one in sums)
    promised = floor(high) if ask.wanted == "dearest" else ceil(low)
    return _Solved(reached(setting, ways_at(row, answer.values)), promised, answer.proven)


def _most_taxable(setting: Setting, ask: Ask, span: Span) -> int | None:
    """How much of the one subtotal of *span* may be taxable within the budget; below 0 where none may.

    None where the straight lines say it: of one subtotal, they miss only the rounding of tax on the whole.
    """
    table = setting.table
    if ask.budget is None or not span.single or table.included or table.per_line or not any(table.rates):
        return None
    like = table.pieces[0]
    halves = replace(table, pieces=(replace(like, taxable=True), replace(like, taxable=False)))

    def total(taxable: int) -> int:
        return total_of(halves, (taxable, span.least - taxable), setting.charges)

    return bisect_right(range(span.least + 1), ask.budget, key=total) - 1


def _narrowed(setting: Setting, row: Row, ask: Ask, span: Span, best: Reached | None) -> Span | None:
    """Leave out of *span* the ends that the straight lines rule out; None where nothing is left of it."""
    low, high = straight(setting.table, setting.charges, span)
    least, most = span.least, span.most
    budget = ask.budget if ask.wanted != "cheapest" or best is None else best.total - 1
    if budget is not None and low.plain:
        most = min(most, floor((budget - low.const) / low.plain))
    if best is not None and ask.wanted == "dearest":
        steps = Fraction(len(setting.ways), 2) if high.rate else 0
        steepest = high.plain + high.taxed + high.rate
        least = max(least, ceil((best.total + 1 - high.const - steps) / steepest)) if steepest else least
    step = gcd(*(way.line for way in row.ways)) or 1
    least, most = -(-least // step) * step, most // step * step
    return Span(least, most) if least <= most else None
