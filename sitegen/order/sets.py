"""The varied sets of an order, each dealt for the copies that are made of it."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction

from sitegen.model.piece import Piece, Varied
from sitegen.order.need import Portion
from sitegen.price.event import worth_of
from sitegen.price.priced import PricedEvent, Worth
from sitegen.price.rates import counted_cost
from sitegen.values.bag import Bag
from sitegen.values.number import total
from sitegen.varied.asked import Asked, Deal, Kind
from sitegen.varied.deal import deal

_NONE = Fraction(0)


@dataclass(frozen=True, slots=True)
class VariedSet:
    """A varied set, dealt: what each copy has of the stems that are kept, and what each got of the others.

    The kept ones are as the recipe says, so there may be parts of a stem; the dealt ones are whole, or half
    where foliage was halved. `copies` stand in the order of their numbers, and name only what they got.
    `spread` is what the stems of the dearest cost above those of the cheapest. Private.
    """

    kept: Bag
    copies: tuple[Bag, ...]
    deal: Deal
    spread: Fraction = _NONE

    def stems(self, copy: int) -> Bag:
        """Give all that goes into the copy with that index."""
        return {**self.kept, **self.copies[copy]}


def dealt(
    priced: PricedEvent, portions: Sequence[Portion], totals: Mapping[str, Mapping[str, int]]
) -> dict[str, VariedSet]:
    """Deal every varied set of two or more; *totals* are the whole stems of all of a piece together."""
    pieces = {piece.id: piece.file.piece for piece in priced.pieces}
    found = {}
    for portion in portions:
        piece = pieces[portion.id]
        if piece.varied is not None and portion.copies > 1 and portion.made.recipe:
            found[portion.id] = _set(priced, portion, piece, piece.varied, totals[portion.id])
    return found


def _set(
    priced: PricedEvent, portion: Portion, piece: Piece, how: Varied, totals: Mapping[str, int]
) -> VariedSet:
    recipe = portion.made.recipe
    kept = {stem: n for stem, n in recipe.items() if stem in portion.made.kept}
    worths = {one.stem: one for one in priced.worths}
    known = {stem: worths.get(stem) or _worth(priced, stem) for stem in recipe if stem not in kept}
    counted = _weight if piece.price is not None else _cost
    kinds = tuple(
        Kind(stem, totals[stem], counted(priced, worth), worth.halves) for stem, worth in known.items()
    )
    found = deal(Asked(portion.copies, kinds, sum(kept.values(), _NONE), how.alike, how.versions))
    copies = tuple({kind.stem: n for kind, n in zip(kinds, row, strict=True) if n} for row in found.copies)
    costs = [total(n * known[stem].cost for stem, n in copy.items()) for copy in copies]
    return VariedSet(kept, copies, found, max(costs, default=_NONE) - min(costs, default=_NONE))


def _cost(_: PricedEvent, worth: Worth) -> Fraction:
    """The copies are to cost the same; the couple's price is made of these costs as well."""
    return worth.cost


def _weight(priced: PricedEvent, worth: Worth) -> Fraction:
    """Leave costs out where the price is the florist's own: one that no price shows moves nothing.

    What was agreed on before there were weights is dealt by those of today.
    """
    return Fraction(worth.weight or worth_of(worth.stem, priced.shared.stems[worth.stem], worth.cost).weight)


def _worth(priced: PricedEvent, stem: str) -> Worth:
    """What the catalogue says now, of a stem that stands in for one of those that were agreed on."""
    shared, month = priced.shared, priced.folder.event.date.month
    known = shared.stems[stem]
    cost = counted_cost(known, month, shared.studio.pricing) if known.offers else _NONE
    return worth_of(stem, known, cost)
