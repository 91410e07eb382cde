"""The total as a straight line: between which two it lies, over a span of subtotals.

Charges with a least amount and a fixed discount bend the total, rounding breaks it into steps, and a fixed
discount shifts tax between pieces. Within a span none of them bends, and what is left is bounded. A span of
one subtotal leaves only the rounding of tax on the whole.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from math import ceil

from sitegen.choices.table import Part, Table, TableCharge
from sitegen.choices.totals import charge_of
from sitegen.values.money import half_away

_HALF = Fraction(1, 2)
_NONE = Fraction(0)


@dataclass(frozen=True, slots=True)
class Span:
    """Subtotals from *least* to *most*, both in it."""

    least: int
    most: int

    @property
    def single(self) -> bool:
        return self.least == self.most


@dataclass(frozen=True, slots=True)
class Straight:
    """A sum: *const*, and of each piece's line the share *plain*, of a taxable one *taxed* more.

    Where tax is rounded line by line, *rate* of a taxable line is rounded and added.
    """

    const: Fraction = _NONE
    plain: Fraction = _NONE
    taxed: Fraction = _NONE
    rate: Fraction = _NONE

    def of(self, line: int, *, taxable: bool) -> Fraction:
        """Give what one piece's *line* counts."""
        counted = self.plain * line
        if taxable:
            counted += self.taxed * line + half_away(self.rate * line)
        return counted

    def __add__(self, other: "Straight") -> "Straight":
        return Straight(
            self.const + other.const,
            self.plain + other.plain,
            self.taxed + other.taxed,
            self.rate + other.rate,
        )

    def times(self, factor: Fraction) -> "Straight":
        return Straight(self.const * factor, self.plain * factor, self.taxed * factor)

    def minus(self, other: "Straight") -> "Straight":
        return self + other.times(Fraction(-1))


Bounds = tuple[Straight, Straight]  # never above, and never below


def spans(table: Table, chosen: frozenset[int], whole: Span) -> tuple[Span, ...]:
    """Part *whole* where the total bends; an empty subtotal stands alone: nothing can be shared out of it."""
    bends = {bend for bend in _bends(table, chosen) if whole.least <= bend < whole.most}
    ends = [*sorted(bends), whole.most]
    starts = [whole.least, *(end + 1 for end in ends[:-1])]
    return tuple(Span(start, end) for start, end in zip(starts, ends, strict=True))


def _bends(table: Table, chosen: frozenset[int]) -> Iterator[int]:
    """The last subtotals before the total bends."""
    yield 0
    if table.discount and table.discount.share is None:
        yield table.discount.amount or 0
    for charge in _charges(table, chosen):
        if charge.part.share and charge.least:
            yield ceil((charge.least + _HALF) / charge.part.share) - 1


def _charges(table: Table, chosen: frozenset[int]) -> list[TableCharge]:
    return [charge for i, charge in enumerate(table.charges) if i in chosen or not charge.optional]


def straight(table: Table, chosen: frozenset[int], span: Span) -> Bounds:
    """Give two straight lines that no total of a subtotal in *span* is below, and above.

    *span* must be one of `spans`, or lie in one.
    """
    low, high = Straight(plain=Fraction(1)), Straight(plain=Fraction(1))
    off = _discount(table.discount, span)
    low, high = low.minus(off[1]), high.minus(off[0])
    charges = _charges(table, chosen)
    for charge in charges:
        low, high = _plus((low, high), _charge(charge, span))
    rate = sum(table.rates, _NONE)
    if table.included or not rate:
        return low, high
    taxed = [_charge(charge, span) for charge in charges if charge.taxable]
    kept = _kept(table.discount, span)
    if table.per_line:
        tax = Straight(rate=rate * kept[0]), Straight(rate=rate * kept[1])
        for one in taxed:
            tax = _plus(tax, _rounded(_times(one, rate)))
    else:
        tax = _taxed_pieces(table.discount, kept)
        for one in taxed:
            tax = _plus(tax, one)
        tax = _rounded(_times(tax, rate))
    return _plus((low, high), tax)


def _plus(one: Bounds, other: Bounds) -> Bounds:
    return one[0] + other[0], one[1] + other[1]


def _times(bounds: Bounds, factor: Fraction) -> Bounds:
    return bounds[0].times(factor), bounds[1].times(factor)


def _known(amount: int | Fraction) -> Bounds:
    return Straight(Fraction(amount)), Straight(Fraction(amount))


def _rounded(bounds: Bounds) -> Bounds:
    """What is known exactly is rounded exactly; else by half a unit either way."""
    low, high = bounds
    if low == high == Straight(low.const):
        return _known(half_away(low.const))
    return low + Straight(-_HALF), high + Straight(_HALF)


def _share(share: Fraction, span: Span) -> Bounds:
    if span.single:
        return _known(half_away(share * span.least))
    line = Straight(plain=share)
    return _rounded((line, line))


def _discount(discount: Part | None, span: Span) -> Bounds:
    if discount is None:
        return _known(0)
    if discount.share is not None:
        return _share(discount.share, span)
    amount = discount.amount or 0
    all_of_it = Straight(plain=Fraction(1))
    return _known(amount) if amount <= span.least else (all_of_it, all_of_it)


def _charge(charge: TableCharge, span: Span) -> Bounds:
    if charge.part.share is None or charge_of(charge, span.most) == charge_of(charge, span.least):
        return _known(charge_of(charge, span.least))
    return _share(charge.part.share, span)


def _kept(discount: Part | None, span: Span) -> tuple[Fraction, Fraction]:
    """The least and the most that is left of each unit of the subtotal after the discount."""
    if discount is None or not span.most:
        return Fraction(1), Fraction(1)
    if span.single or discount.share is None:
        amount = discount.amount if discount.share is None else half_away(discount.share * span.least)
        return _left(amount or 0, span.least), _left(amount or 0, span.most)
    around = _HALF / span.least
    return max(1 - discount.share - around, _NONE), min(1 - discount.share + around, Fraction(1))


def _left(amount: int, of: int) -> Fraction:
    return Fraction(of - min(amount, of), of)


def _taxed_pieces(discount: Part | None, kept: tuple[Fraction, Fraction]) -> Bounds:
    """The taxable part of the pieces, as the discount leaves it."""
    least, most = kept
    if least == most:
        return Straight(taxed=least), Straight(taxed=least)
    if discount is not None and discount.share is not None:
        line = Straight(taxed=1 - discount.share)
        return _rounded((line, line))
    # All that is left, without what is left of the pieces that are not taxable: those are the fewer.
    amount = Fraction(discount.amount or 0) if discount else _NONE
    return _without_untaxed(most, amount), _without_untaxed(least, amount)


def _without_untaxed(kept: Fraction, amount: Fraction) -> Straight:
    return Straight(const=-amount, plain=1 - kept, taxed=kept)


def apart(table: Table, chosen: frozenset[int], least: int) -> int | None:
    """Give by how much a line must be dearer so that, whatever is rounded, the total is never lower.

    *least* is the lowest subtotal there can be. None where the total may stand still.
    """
    discount, rate = table.discount, _NONE if table.included else sum(table.rates, _NONE)
    slope = 1 - (discount.share or _NONE) if discount else Fraction(1)
    if not slope or (discount and (discount.amount or 0) > least):
        return None
    charges = _charges(table, chosen)
    shared = [charge for charge in charges if charge.part.share is not None]
    off = _HALF * bool(discount and discount.share)
    error = off + _HALF * len(shared)
    if rate:
        error += rate * (off + _HALF * sum(charge.taxable for charge in shared)) + _HALF
        if table.per_line:
            error += _HALF * (sum(charge.taxable for charge in charges) + len(table.pieces))
    return max(1, ceil(2 * error / slope))
