"""What one stem, metre or piece costs and is priced at on an event's day."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction
from math import lcm

from sitegen.model.catalogue import Good, Offer, Stem
from sitegen.model.content import EventFolder, Shared
from sitegen.model.piece import Answer, Piece
from sitegen.model.terms import Pricing
from sitegen.values.length import Length

_NONE = Fraction(0)


@dataclass(frozen=True, slots=True)
class Rate:
    """Of one stem, metre or piece: the cost, private, and the price before labour. Exact."""

    cost: Fraction
    price: Fraction


@dataclass(frozen=True, slots=True)
class Rates:
    """Many rates over one denominator, so that a recipe is summed in integers and reduced once."""

    over: int
    parts: Mapping[str, tuple[int, int]]

    def of(self, amounts: Mapping[str, Fraction]) -> Rate:
        """Give the cost and price of *amounts* together."""
        if not amounts:
            return Rate(_NONE, _NONE)
        whole = lcm(*[n.denominator for n in amounts.values()])
        cost = price = 0
        for name, n in amounts.items():
            count = n.numerator * (whole // n.denominator)
            cost_part, price_part = self.parts[name]
            cost += count * cost_part
            price += count * price_part
        return Rate(Fraction(cost, whole * self.over), Fraction(price, whole * self.over))


@dataclass(frozen=True, slots=True)
class EventRates:
    """The rates of all that an event's pieces and answers name, and the bunches their recipes count by."""

    stems: Rates
    goods: Rates
    bunches: Mapping[str, int]


def event_rates(shared: Shared, folder: EventFolder) -> EventRates:
    """Give the rates for the month of *folder*'s event."""
    month, pricing = folder.event.date.month, shared.studio.pricing
    stems = {name: shared.stems[name] for name in dict.fromkeys(_stems_named(folder))}
    goods = {name: shared.goods[name] for name in dict.fromkeys(_goods_named(folder))}
    return EventRates(
        stems=_over_one({name: stem_rate(stem, month, pricing) for name, stem in stems.items()}),
        goods=_over_one({name: good_rate(good, pricing) for name, good in goods.items()}),
        bunches={name: pricing_offer(stem, month).bunch.stems for name, stem in stems.items()},
    )


def pricing_offer(stem: Stem, month: int) -> Offer:
    """Give the offer that prices recipes: the first in season.

    A stem that a stand-in replaces may have none; its bunch is then the first offer's.
    """
    found = stem.offer_on(month)
    return found[1] if found else stem.offers[0]


def loss_of(stem: Stem, pricing: Pricing) -> Fraction:
    return pricing.loss if stem.loss is None else stem.loss


def stem_rate(stem: Stem, month: int, pricing: Pricing) -> Rate:
    """Cost of a stem with its loss; price by its role's mark-up, with the loss if the studio says so."""
    offer = pricing_offer(stem, month)
    bare = offer.price / offer.bunch.stems
    cost = bare * (1 + loss_of(stem, pricing))
    _, markup = pricing.markup.of(stem.role)
    return Rate(cost, (cost if pricing.loss_in_price else bare) * markup)


def good_rate(good: Good, pricing: Pricing) -> Rate:
    """By the first pack, per metre or piece; a hire piece costs nothing and is priced at its hire.

    A good's own loss is in what is ordered, never here.
    """
    if good.hire is not None:
        return Rate(_NONE, good.hire)
    cost = unit_cost(good)
    return Rate(cost, cost * pricing.markup.goods)


def unit_cost(good: Good) -> Fraction:
    """What a bought good costs per metre or piece, from its first pack."""
    pack = good.packs[0]
    return pack.price / (pack.length.metres if pack.length else Fraction(pack.pieces or 1))


def measured(amount: Fraction | Length) -> Fraction:
    """An amount of a good in what its rate is for: metres or pieces."""
    return amount.metres if isinstance(amount, Length) else amount


def _over_one(rates: Mapping[str, Rate]) -> Rates:
    over = lcm(*(part.denominator for rate in rates.values() for part in (rate.cost, rate.price)))

    def parts(amount: Fraction) -> int:
        return amount.numerator * (over // amount.denominator)

    return Rates(over, {name: (parts(rate.cost), parts(rate.price)) for name, rate in rates.items()})


def _answers(piece: Piece) -> Iterator[Answer]:
    return (answer for choice in piece.choices for answer in choice.answers)


def _stems_named(folder: EventFolder) -> Iterator[str]:
    yield from (swap.to for swap in folder.event.swaps)
    for file in folder.pieces:
        yield from file.piece.recipe
        for answer in _answers(file.piece):
            yield from answer.recipe
            yield from answer.swap.values()


def _goods_named(folder: EventFolder) -> Iterator[str]:
    for file in folder.pieces:
        yield from file.piece.goods
        for answer in _answers(file.piece):
            yield from answer.goods
        if file.piece.second_place and file.piece.second_place.vessel:
            yield file.piece.second_place.vessel
