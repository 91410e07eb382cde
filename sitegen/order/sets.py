"""The varied sets of an order, each dealt for the copies that are made of it."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction

from sitegen.model.piece import Varied
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
    varied = {piece.id: piece.file.piece.varied for piece in priced.pieces}
    found = {}
    for portion in portions:
        how = varied.get(portion.id)
        if how is not None and portion.copies > 1 and portion.made.recipe:
            found[portion.id] = _set(priced, portion, how, totals[portion.id])
    return found


def _set(priced: PricedEvent, portion: Portion, how: Varied, totals: Mapping[str, int]) -> VariedSet:
    recipe = portion.made.recipe
    kept = {stem: n for stem, n in recipe.items() if stem in portion.made.kept}
    worths = {one.stem: one for one in priced.worths}
    known = {stem: worths.get(stem) or _worth(priced, stem) for stem in recipe if stem not in kept}
    kinds = tuple(_kind(priced, totals[stem], worth) for stem, worth in known.items())
    found = deal(Asked(portion.copies, kinds, sum(kept.values(), _NONE), how.alike, how.versions))
    copies = tuple({kind.stem: n for kind, n in zip(kinds, row, strict=True) if n} for row in found.copies)
    costs = [total(n * known[stem].cost for stem, n in copy.items()) for copy in copies]
    return VariedSet(kept, copies, found, max(costs, default=_NONE) - min(costs, default=_NONE))


def _kind(priced: PricedEvent, n: int, worth: Worth) -> Kind:
    """What was agreed on before there were weights is dealt by those of today."""
    weight = worth.weight or worth_of(worth.stem, priced.shared.stems[worth.stem], worth.cost).weight
    return Kind(worth.stem, n, Fraction(weight), worth.halves)


def _worth(priced: PricedEvent, stem: str) -> Worth:
    """What the catalogue says now, of a stem that stands in for one of those that were agreed on."""
    shared, month = priced.shared, priced.folder.event.date.month
    known = shared.stems[stem]
    cost = counted_cost(known, month, shared.studio.pricing) if known.offers else _NONE
    return worth_of(stem, known, cost)
