"""What is asked of the solver: whole variables in ranges, rules over them, and goals in turn. Exact."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import ceil, floor, gcd, lcm

Amount = int | Fraction
Terms = Mapping[int, Amount]  # variable number → what one of it counts


@dataclass(frozen=True, slots=True)
class Rule:
    """*least* ≤ Σ count × variable ≤ *most*; None leaves that side open."""

    terms: Terms
    least: Amount | None = None
    most: Amount | None = None


@dataclass(frozen=True, slots=True)
class Program:
    """Whole variables, numbered from 0, each in its closed range; all rules hold.

    Of all that fits, the least of the first goal is wanted, then of those the
    least of the second, and so on. To ask for the most of something, negate
    its terms. A rule that says nothing new but cuts off what is not whole (a
    cut) is welcome: it makes the search shorter and changes no answer.
    """

    ranges: tuple[tuple[int, int], ...]
    rules: tuple[Rule, ...] = ()
    goals: tuple[Terms, ...] = ()


def fits(program: Program, values: Sequence[int]) -> bool:
    """Tell whether *values* are in their ranges and hold every rule, exactly."""
    if len(values) != len(program.ranges):
        return False
    inside = all(low <= n <= high for (low, high), n in zip(program.ranges, values, strict=True))
    return inside and all(_holds(rule, values) for rule in program.rules)


def worth(goal: Terms, values: Sequence[int]) -> Amount:
    """Sum what *values* count in a goal, exactly."""
    return sum(count * values[i] for i, count in goal.items())


def _holds(rule: Rule, values: Sequence[int]) -> bool:
    value = worth(rule.terms, values)
    return (rule.least is None or rule.least <= value) and (rule.most is None or value <= rule.most)


@dataclass(frozen=True, slots=True)
class Whole:
    """Terms in whole numbers without a common divisor, and by what they were multiplied."""

    terms: tuple[tuple[int, int], ...]
    factor: Fraction


def whole(terms: Terms) -> Whole:
    """Scale *terms* to the smallest whole numbers in the same proportion; zeros are left out.

    >>> whole({0: Fraction(1, 2), 1: 3, 2: 0})
    Whole(terms=((0, 1), (1, 6)), factor=Fraction(2, 1))
    """
    counts = [(i, count) for i, count in terms.items() if count]
    over = lcm(*(count.denominator for _, count in counts))
    ints = [count.numerator * (over // count.denominator) for _, count in counts]
    divisor = gcd(*ints) or 1
    scaled = tuple((i, n // divisor) for (i, _), n in zip(counts, ints, strict=True))
    return Whole(scaled, Fraction(over, divisor))


def whole_rule(rule: Rule) -> tuple[Whole, int | None, int | None]:
    """Give a rule in whole numbers, its ends drawn in to the next whole number: it means the same."""
    scaled = whole(rule.terms)
    least = None if rule.least is None else ceil(rule.least * scaled.factor)
    most = None if rule.most is None else floor(rule.most * scaled.factor)
    return scaled, least, most


def largest(amounts: Iterable[int | None]) -> int:
    return max((abs(n) for n in amounts if n is not None), default=0)
