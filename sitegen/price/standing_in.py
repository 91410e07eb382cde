"""What stands in for a stem that is not to be had, after its price was agreed: other stems, same price."""

from collections.abc import Iterable, Mapping
from dataclasses import replace

from sitegen.model.event import StandIn
from sitegen.price.priced import Made, PricedEvent, PricedPiece, StoodIn
from sitegen.price.recipe import Moves, moved, stand_ins
from sitegen.values.bag import Bag


def standing_in(priced: PricedEvent, swaps: Iterable[StandIn]) -> PricedEvent:
    """Give the event as it is made with *swaps*, all at once: `Made.recipe` is what goes into each piece.

    `Made.stood_in` says what stands in for what, and why. Prices and costs stay as they were agreed.
    """
    listed = tuple(swaps)
    moves, why = stand_ins(listed), {swap.from_: swap.why or "" for swap in listed}
    return replace(priced, pieces=tuple(_piece(piece, moves, why) for piece in priced.pieces))


def _piece(priced: PricedPiece, moves: Moves, why: Mapping[str, str]) -> PricedPiece:
    if not any(stem in moves for one in priced.combinations for stem in one.made.recipe):
        return priced
    # Combinations share a recipe where the answers that differ do not touch it, and still do afterwards.
    recipes = {id(one.made.recipe): moved(one.made.recipe, moves) for one in priced.combinations}
    combinations = tuple(
        replace(one, made=_made(one.made, recipes[id(one.made.recipe)], moves, why))
        for one in priced.combinations
    )
    return replace(priced, combinations=combinations)


def _made(made: Made, recipe: Bag, moves: Moves, why: Mapping[str, str]) -> Made:
    """What a set has alike in each stays alike when it is another stem."""
    kept = dict.fromkeys(moves[name][0] if name in moves else name for name in made.kept)
    stood = (StoodIn(old, new, why[old]) for old, (new, _) in moves.items() if old in made.recipe)
    return replace(made, recipe=recipe, kept=tuple(kept), stood_in=tuple(stood))
