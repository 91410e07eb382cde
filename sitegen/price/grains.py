"""An event's rates as whole numbers, so that every combination is a sum of integers.

Amounts are counted in parts, of which `whole` make one stem, metre, piece or
minute; money in grains, so small that what one part costs is a whole number of
them. Sums are as exact as with fractions, and many times quicker.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction
from math import lcm, prod

from sitegen.model.content import EventFolder, Shared
from sitegen.model.piece import Answer, Piece
from sitegen.price.rates import LabourRate, Rate, good_rate, labour_rate, pricing_offer, stem_rate
from sitegen.price.recipe import Work
from sitegen.values.length import METRES, Length


@dataclass(frozen=True, slots=True)
class Weight:
    """A cost and a price in grains."""

    cost: int
    price: int


@dataclass(frozen=True, slots=True)
class Grains:
    """What a part of each stem and good of an event weighs, and of a minute; *over* grains make one unit."""

    over: int
    whole: int
    stems: Mapping[str, Weight]
    goods: Mapping[str, Weight]
    bunches: Mapping[str, int]
    minute: int
    labour: LabourRate

    def weigh(self, amounts: Mapping[str, Fraction], weights: Mapping[str, Weight]) -> Weight:
        """Give the cost and price of *amounts* together; *weights* are of `stems` or of `goods`."""
        cost = price = 0
        for name, n in amounts.items():
            count, weight = n.numerator * (self.whole // n.denominator), weights[name]
            cost += count * weight.cost
            price += count * weight.price
        return Weight(cost, price)

    def work(self, work: Work, materials: int) -> int:
        """Give labour and added money, beside *materials* of so many grains."""
        added = work.add.numerator * (self.over // work.add.denominator)
        if work.by_couple:
            return added
        minutes = work.minutes.numerator * (self.whole // work.minutes.denominator)
        share = materials * self.labour.materials.numerator + added * self.labour.added.numerator
        return added + minutes * self.minute + share // self.labour.materials.denominator


def event_grains(shared: Shared, folder: EventFolder) -> Grains:
    """Weigh what *folder*'s pieces and answers name, for the month of the event."""
    month, pricing = folder.event.date.month, shared.studio.pricing
    stems = {name: shared.stems[name] for name in dict.fromkeys(_stems_named(folder))}
    goods = {name: shared.goods[name] for name in dict.fromkeys(_goods_named(folder))}
    stem_rates = {name: stem_rate(stem, month, pricing) for name, stem in stems.items()}
    good_rates = {name: good_rate(good, pricing) for name, good in goods.items()}
    labour, rates = labour_rate(pricing.labour), (*stem_rates.values(), *good_rates.values())
    added = (answer.add for file in folder.pieces for answer in _answers(file.piece))
    money = [labour.minute, *added, *(part for rate in rates for part in (rate.cost, rate.price))]
    # Labour on materials is a whole number of grains only if all materials divide by its own denominator.
    per_part = _common(money) * labour.materials.denominator
    whole = _common(_amounts(folder)) * prod(swap.each.denominator for swap in folder.event.swaps)

    def grains(money: Fraction) -> int:
        return money.numerator * (per_part // money.denominator)

    def weights(rates: Mapping[str, Rate]) -> dict[str, Weight]:
        return {name: Weight(grains(rate.cost), grains(rate.price)) for name, rate in rates.items()}

    return Grains(
        over=per_part * whole,
        whole=whole,
        stems=weights(stem_rates),
        goods=weights(good_rates),
        bunches={name: pricing_offer(stem, month).bunch.stems for name, stem in stems.items()},
        minute=grains(labour.minute),
        labour=labour,
    )


def _common(amounts: Iterable[Fraction]) -> int:
    """The least whole number that every amount's denominator divides."""
    return lcm(*{amount.denominator for amount in amounts})


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


def _amounts(folder: EventFolder) -> Iterator[Fraction]:
    """Every amount that a line of a recipe, of goods or of minutes may have."""
    for file in folder.pieces:
        every: tuple[Piece | Answer, ...] = (file.piece, *_answers(file.piece))
        for lines in every:
            yield from (n.count for n in lines.recipe.values())
            for n in lines.goods.values():
                if isinstance(n, Length):
                    yield Fraction(1, n.amount.denominator * METRES[n.unit].denominator)
                else:
                    yield n
            if lines.minutes is not None:
                yield lines.minutes
