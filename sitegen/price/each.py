"""Cost, computed price and price of one piece for every combination of answers."""

from collections.abc import Iterator, Mapping
from fractions import Fraction
from functools import partial

from sitegen.model.content import PieceFile, Shared
from sitegen.model.piece import Answer, Piece
from sitegen.model.terms import Rounding
from sitegen.price.grains import Grains, Weight
from sitegen.price.priced import Combination, Made, PricedPiece
from sitegen.price.rates import measured
from sitegen.price.recipe import Moves, all_answers, goods_of, kept_of, once_each, recipe_of, work_of
from sitegen.values.bag import Bag
from sitegen.values.length import Length
from sitegen.values.money import Currency, round_to


def price_piece(shared: Shared, file: PieceFile, grains: Grains, moves: Moves) -> PricedPiece:
    """Price *file*'s piece for every combination of answers; *moves* are the event's stand-ins."""
    answers = tuple(all_answers(file.piece))
    made = tuple(_weighed(file.piece, grains, moves))
    exact = [Fraction(weight.price, grains.over) for _, weight in made]
    usual = answers.index(tuple(choice.usual for choice in file.piece.choices))
    own = file.piece.price
    each = [price_each(one, exact[usual], own, shared.studio.pricing.round, shared.currency) for one in exact]
    if own is not None:
        each[usual] = shared.currency.units(own)
    combinations = tuple(
        Combination(picked, what, price, units, Fraction(weight.cost, grains.over))
        for picked, (what, weight), price, units in zip(answers, made, exact, each, strict=True)
    )
    return PricedPiece(file, combinations, usual)


def _weighed(piece: Piece, grains: Grains, moves: Moves) -> Iterator[tuple[Made, Weight]]:
    """What every combination is made of, with its cost and computed price in grains."""

    def stems(given: list[Answer]) -> tuple[Bag, tuple[str, ...], Weight]:
        recipe = recipe_of(piece, given, grains.bunches.__getitem__, moves)
        return recipe, kept_of(piece, given, moves), grains.weigh(recipe, grains.stems)

    def goods(given: list[Answer]) -> tuple[Mapping[str, Fraction | Length], Weight]:
        lines = goods_of(piece, given)
        return lines, grains.weigh({good: measured(n) for good, n in lines.items()}, grains.goods)

    parts = zip(
        once_each(piece, lambda answer: answer.recipe or answer.swap, stems),
        once_each(piece, lambda answer: answer.goods, goods),
        once_each(piece, lambda a: a.minutes is not None or a.add or a.made_by, partial(work_of, piece)),
        strict=True,
    )
    for (recipe, kept, fresh), (lines, hard), work in parts:
        materials = fresh.price + hard.price
        made = Made(recipe, lines, work.minutes, work.add, work.by_couple, kept)
        yield made, Weight(fresh.cost + hard.cost, materials + grains.work(work, materials))


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
