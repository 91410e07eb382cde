"""The integer program of a span of subtotals: a variable for each way of each piece, one way a piece."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import ceil, floor

from sitegen.fit.asked import Ask, Reached, Setting
from sitegen.fit.straight import Bounds, Span, Straight
from sitegen.fit.ways import Way
from sitegen.solve.program import Program, Rule, Terms, largest, whole

_FINE = 64  # parts of a smallest unit, outward, where exact counts are too large to be told apart in floats
_LARGE = 10**9


@dataclass(frozen=True, slots=True)
class Row:
    """The ways of all pieces in one row, which numbers the variables, and whether each is taxable."""

    ways: tuple[Way, ...]
    taxable: tuple[bool, ...]
    one_each: tuple[Rule, ...]


@dataclass(frozen=True, slots=True)
class Sum:
    """A straight line over the variables: what they count, and a constant beside them."""

    terms: Terms
    const: Fraction

    def of(self, values: Sequence[int]) -> Fraction:
        return self.const + sum(count for i, count in self.terms.items() if values[i])


def row_of(setting: Setting) -> Row:
    """Put the ways of all pieces in one row."""
    taxable, rules, at = [], [], 0
    for piece, ways in zip(setting.table.pieces, setting.ways, strict=True):
        taxable += [piece.taxable] * len(ways)
        rules.append(Rule(dict.fromkeys(range(at, at + len(ways)), 1), 1, 1))
        at += len(ways)
    return Row(tuple(way for ways in setting.ways for way in ways), tuple(taxable), tuple(rules))


def ways_at(row: Row, values: Sequence[int]) -> list[Way]:
    """Give the way of each piece that *values* take."""
    return [way for way, value in zip(row.ways, values, strict=True) if value]


def sums_of(row: Row, bounds: Bounds) -> tuple[Sum, Sum]:
    """Give both lines over the variables, rounded away from each other where they must be."""
    return _sum(row, bounds[0], up=False), _sum(row, bounds[1], up=True)


def _sum(row: Row, line: Straight, *, up: bool) -> Sum:
    both = zip(row.ways, row.taxable, strict=True)
    terms = {i: line.of(way.line, taxable=taxable) for i, (way, taxable) in enumerate(both)}
    if largest(count for _, count in whole(terms).terms) > _LARGE:
        to_whole = ceil if up else floor
        terms = {i: Fraction(to_whole(count * _FINE), _FINE) for i, count in terms.items()}
    return Sum(terms, line.const)


def program_of(
    row: Row, ask: Ask, span: Span, sums: tuple[Sum, Sum], best: Reached | None, taxable: int | None
) -> Program:
    """Write down *ask* for the subtotals of *span*, and rule out what is not better than *best*.

    The total is taken to be as good as the two lines allow, so that nothing is ruled out that fits. *taxable*
    is the most of taxable lines that keeps within the budget, where that is known.
    """
    limits = _limits(row, ask, span, sums[0], taxable)
    return Program(
        ranges=((0, 1),) * len(row.ways),
        rules=(*row.one_each, *limits, *_above(row, ask, sums, best)),
        goals=_goals(row, ask, sums),
    )


def _limits(row: Row, ask: Ask, span: Span, low: Sum, taxable: int | None) -> Iterator[Rule]:
    yield Rule({i: way.line for i, way in enumerate(row.ways)}, span.least, span.most)
    if taxable is not None:
        yield Rule({i: way.line for i, way in enumerate(row.ways) if row.taxable[i]}, most=taxable)
    elif ask.budget is not None:
        yield Rule(low.terms, most=ask.budget - low.const)
    # Nothing cheaper loses or changes less than what the dearest is asked of: its search is shorter for it.
    exactly = ask.wanted == "dearest"
    if ask.lost is not None:
        yield Rule(_lost(row), ask.lost if exactly else None, ask.lost)
    if ask.changes is not None:
        yield Rule(_changes(row), ask.changes if exactly else None, ask.changes)


def _above(row: Row, ask: Ask, sums: tuple[Sum, Sum], best: Reached | None) -> Iterator[Rule]:
    if best is None:
        return
    low, high = sums
    if ask.wanted == "least lost":
        yield Rule(_lost(row), most=best.lost)
    elif ask.wanted == "dearest":
        yield Rule(high.terms, least=best.total + 1 - high.const)
    else:
        yield Rule(low.terms, most=best.total - 1 - low.const)


def _goals(row: Row, ask: Ask, sums: tuple[Sum, Sum]) -> tuple[Terms, ...]:
    low, high = sums
    if ask.wanted == "least lost":
        return _lost(row), _changes(row)
    if ask.wanted == "dearest":
        return ({i: -count for i, count in high.terms.items()},)
    return (low.terms,)


def _lost(row: Row) -> Terms:
    return {i: way.lost for i, way in enumerate(row.ways)}


def _changes(row: Row) -> Terms:
    return {i: way.changes for i, way in enumerate(row.ways)}
