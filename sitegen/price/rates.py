"""What one stem, metre or piece costs and is priced at on an event's day, and how labour is counted."""

from dataclasses import dataclass
from fractions import Fraction

from sitegen.model.catalogue import Good, Offer, Stem
from sitegen.model.terms import Labour, Pricing
from sitegen.values.length import Length

_NONE = Fraction(0)


@dataclass(frozen=True, slots=True)
class Rate:
    """Of one stem, metre or piece: the cost, private, and the price before labour. Exact."""

    cost: Fraction
    price: Fraction


@dataclass(frozen=True, slots=True)
class LabourRate:
    """Labour as money for each minute, and for each unit of materials and of money that answers add.

    A share of the price is share / (1 - share) of all the rest: a quarter of
    100 leaves 75, and a third of 75 is 25.
    """

    minute: Fraction = _NONE
    materials: Fraction = _NONE
    added: Fraction = _NONE

    def of(self, minutes: Fraction, materials: Fraction, added: Fraction) -> Fraction:
        return self.minute * minutes + self.materials * materials + self.added * added


def labour_rate(way: Labour | None) -> LabourRate:
    """Give the studio's way of labour: by the hour, a percent on materials, or a share of the price."""
    if way is None:
        return LabourRate()
    if way.per_hour is not None:
        return LabourRate(minute=way.per_hour / 60)
    if way.on_materials is not None:
        return LabourRate(materials=way.on_materials)
    share = way.of_price or _NONE
    return LabourRate(materials=share / (1 - share), added=share / (1 - share))


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
    cost = offer.price / offer.bunch.stems * (1 + loss_of(stem, pricing))
    _, markup = pricing.markup.of(stem.role)
    return Rate(cost, counted_cost(stem, month, pricing) * markup)


def counted_cost(stem: Stem, month: int, pricing: Pricing) -> Fraction:
    """Cost of a stem as its price counts it: with its loss only if the studio says so."""
    offer = pricing_offer(stem, month)
    bare = offer.price / offer.bunch.stems
    return bare * (1 + loss_of(stem, pricing)) if pricing.loss_in_price else bare


def good_rate(good: Good, pricing: Pricing) -> Rate:
    """By the first pack, per metre or piece; a hire piece costs nothing and is priced at its hire.

    A good's own loss is in what is ordered, never here.
    """
    if good.hire is not None:
        return Rate(_NONE, good.hire)
    pack = good.packs[0]
    cost = pack.price / (pack.length.metres if pack.length else Fraction(pack.pieces or 1))
    return Rate(cost, cost * pricing.markup.goods)


def measured(amount: Fraction | Length) -> Fraction:
    """An amount of a good in what its rate is for: metres or pieces."""
    return amount.metres if isinstance(amount, Length) else amount
