"""Cost, computed price and price of one piece for every combination of answers."""

from collections.abc import Mapping
from fractions import Fraction
from functools import partial
from typing import TypeAlias

from sitegen.model.content import PieceFile, Shared
from sitegen.model.piece import Answer, Piece
from sitegen.model.terms import Labour, Rounding
from sitegen.price.priced import Combination, Made, PricedPiece
from sitegen.price.rates import EventRates, Rate, measured
from sitegen.price.recipe import Moves, Work, all_answers, goods_of, once_each, recipe_of, work_of
from sitegen.values.bag import Bag
from sitegen.values.length import Length
from sitegen.values.money import Currency, round_to

Stems: TypeAlias = tuple[Bag, Rate]
Goods: TypeAlias = tuple[Mapping[str, Fraction | Length], Rate]
_NONE = Fraction(0)


def price_piece(shared: Shared, file: PieceFile, rates: EventRates, moves: Moves) -> PricedPiece:
    """Price *file*'s piece for every combination of answers; *moves* are the event's stand-ins."""
    pricing = shared.studio.pricing
    answers = tuple(all_answers(file.piece))
    kinds = _kinds(file.piece, rates, moves)
    computed = [compute(*kind, pricing.labour) for kind in kinds]
    usual = answers.index(tuple(choice.usual for choice in file.piece.choices))
    own = file.piece.price
    each = [
        price_each(rate.price, computed[usual].price, own, pricing.round, shared.currency)
        for rate in computed
    ]
    if own is not None:
        each[usual] = shared.currency.units(own)
    combinations = tuple(
        Combination(picked, _made(*kind), rate.price, units, rate.cost)
        for picked, kind, rate, units in zip(answers, kinds, computed, each, strict=True)
    )
    return PricedPiece(file, combinations, usual)


def _kinds(piece: Piece, rates: EventRates, moves: Moves) -> list[tuple[Stems, Goods, Work]]:
    """What goes into every combination, each part priced once where the answers do not touch it."""

    def stems(given: list[Answer]) -> Stems:
        recipe = recipe_of(piece, given, rates.bunches.__getitem__, moves)
        return recipe, rates.stems.of(recipe)

    def goods(given: list[Answer]) -> Goods:
        amounts = goods_of(piece, given)
        return amounts, rates.goods.of({good: measured(n) for good, n in amounts.items()})

    return list(
        zip(
            once_each(piece, lambda answer: answer.recipe or answer.swap, stems),
            once_each(piece, lambda answer: answer.goods, goods),
            once_each(piece, lambda a: a.minutes is not None or a.add or a.made_by, partial(work_of, piece)),
            strict=True,
        )
    )


def _made(stems: Stems, goods: Goods, work: Work) -> Made:
    return Made(stems[0], goods[0], work.minutes, work.add, work.by_couple)


def compute(stems: Stems, goods: Goods, work: Work, way: Labour | None) -> Rate:
    """Give the cost (with loss, without labour) and the computed price of one piece, both exact."""
    fresh, hard = stems[1], goods[1]
    materials = fresh.price + hard.price
    price = materials + labour(way, work, materials)
    return Rate(fresh.cost + hard.cost, price + work.add if work.add else price)


def labour(way: Labour | None, work: Work, materials: Fraction) -> Fraction:
    """By the hour, a percent on materials, or a share of the price; none where the couple make it.

    A share of the price is share / (1 - share) of all the rest: a quarter of
    100 leaves 75, and a third of 75 is 25.
    """
    if way is None or work.by_couple:
        return _NONE
    if way.per_hour is not None:
        return way.per_hour * work.minutes / 60
    if way.on_materials is not None:
        return way.on_materials * materials
    share = way.of_price or _NONE
    return share / (1 - share) * (materials + work.add)


def price_each(
    exact: Fraction, usual: Fraction, own: Fraction | None, rule: Rounding | None, currency: Currency
) -> int:
    """Give the price in smallest units for a computed price of *exact*.

    With a price of its *own* for the usual answers, others keep their
    proportion to it, before the rounding rule; where the *usual* computes to
    nothing there is no proportion to keep, and all cost the same.
    """
    if own is not None:
        if usual <= 0:
            return currency.units(own)
        exact = own * exact / usual
    return currency.units(round_to(exact, rule.to, rule.how) if rule else exact)
