"""Cost, computed price and price of one piece for every combination of answers."""

from fractions import Fraction

from sitegen.model.content import PieceFile, Shared
from sitegen.model.terms import Labour, Rounding
from sitegen.price.priced import Combination, Made, PricedPiece
from sitegen.price.rates import EventRates, Rate, measured
from sitegen.price.recipe import Moves, all_answers, made
from sitegen.values.money import Currency, round_to

_NONE = Fraction(0)


def price_piece(shared: Shared, file: PieceFile, rates: EventRates, moves: Moves) -> PricedPiece:
    """Price *file*'s piece for every combination of answers; *moves* are the event's stand-ins."""
    answers = tuple(all_answers(file.piece))
    kinds = [made(file.piece, each, rates.bunches.__getitem__, moves) for each in answers]
    computed = [compute(kind, rates, shared.studio.pricing.labour) for kind in kinds]
    usual = answers.index(tuple(choice.usual for choice in file.piece.choices))
    each = [
        price_each(
            rate.price, computed[usual].price, file.piece.price, shared.studio.pricing.round, shared.currency
        )
        for rate in computed
    ]
    if file.piece.price is not None:
        each[usual] = shared.currency.units(file.piece.price)
    combinations = tuple(
        Combination(picked, kind, rate.price, units, rate.cost)
        for picked, kind, rate, units in zip(answers, kinds, computed, each, strict=True)
    )
    return PricedPiece(file, combinations, usual)


def compute(kind: Made, rates: EventRates, way: Labour | None) -> Rate:
    """Give the cost (with loss, without labour) and the computed price of one piece, both exact."""
    fresh = rates.stems.of(kind.recipe)
    goods = rates.goods.of({good: measured(n) for good, n in kind.goods.items()})
    materials = fresh.price + goods.price
    price = materials + labour(way, kind, materials)
    return Rate(fresh.cost + goods.cost, price + kind.add if kind.add else price)


def labour(way: Labour | None, kind: Made, materials: Fraction) -> Fraction:
    """By the hour, a percent on materials, or a share of the price; none where the couple make it.

    A share of the price is share / (1 - share) of all the rest: a quarter of
    100 leaves 75, and a third of 75 is 25.
    """
    if way is None or kind.by_couple:
        return _NONE
    if way.per_hour is not None:
        return way.per_hour * kind.minutes / 60
    if way.on_materials is not None:
        return way.on_materials * materials
    share = way.of_price or _NONE
    return share / (1 - share) * (materials + kind.add)


def price_each(
    exact: Fraction, usual: Fraction, own: Fraction | None, rule: Rounding | None, currency: Currency
) -> int:
    """Give the price in smallest units for a computed price of *exact*; never below 0.

    With a price of its *own* for the usual answers, others keep their
    proportion to it, before the rounding rule; where the *usual* computes to
    nothing there is no proportion to keep, and all cost the same.
    """
    if own is not None:
        if usual <= 0:
            return currency.units(own)
        exact = own * exact / usual
    amount = max(exact, _NONE)
    return currency.units(round_to(amount, rule.to, rule.how) if rule else amount)
