"""One piece and one combination of answers: what goes into it."""

from collections.abc import Callable, Iterable, Iterator, Mapping
from fractions import Fraction
from itertools import product
from typing import TypeAlias

from sitegen.model.event import StandIn
from sitegen.model.piece import Answer, Piece
from sitegen.price.priced import Made
from sitegen.values.amount import StemAmount
from sitegen.values.bag import Bag
from sitegen.values.length import Length

Moves: TypeAlias = Mapping[str, tuple[str, Fraction]]
"""Stem → the stem that takes its place, and how many of that for one."""

_ONE = Fraction(1)
_NONE = Fraction(0)


def all_answers(piece: Piece) -> Iterator[tuple[int, ...]]:
    """Every combination of answers, an index for each choice, the last choice turning fastest."""
    return product(*(range(len(choice.answers)) for choice in piece.choices))


def stand_ins(swaps: Iterable[StandIn]) -> Moves:
    """An event's `swaps` as moves."""
    return {swap.from_: (swap.to, swap.each) for swap in swaps}


def made(piece: Piece, answers: tuple[int, ...], bunch: Callable[[str], int], event_moves: Moves) -> Made:
    """Give what goes into *piece* for *answers*.

    Lines that an answer sets replace the piece's own; then all swaps of the
    answers are made at once, then the event's stand-ins. *bunch* says how many
    stems are in the bunch that prices a stem: "0.5 bunch" is counted by it,
    before any swap.
    """
    picked = [choice.answers[index] for choice, index in zip(piece.choices, answers, strict=True)]
    swaps = {old: (new, _ONE) for answer in picked for old, new in answer.swap.items()}
    recipe = moved(moved(_stems(piece, picked, bunch), swaps), event_moves)
    return Made(
        recipe=recipe,
        goods=_goods(piece, picked),
        minutes=next((a.minutes for a in picked if a.minutes is not None), piece.minutes),
        add=sum((answer.add for answer in picked if answer.add), _NONE),
        by_couple=next((a.made_by for a in picked if a.made_by), piece.made_by) == "couple",
    )


def _stems(piece: Piece, picked: list[Answer], bunch: Callable[[str], int]) -> dict[str, Fraction]:
    lines: dict[str, StemAmount] = dict(piece.recipe)
    for answer in picked:
        lines.update(answer.recipe)
    return {stem: n.stems(bunch(stem)) if n.bunches else n.count for stem, n in lines.items() if n.count}


def _goods(piece: Piece, picked: list[Answer]) -> dict[str, Fraction | Length]:
    lines = dict(piece.goods)
    for answer in picked:
        lines.update(answer.goods)
    if piece.second_place and piece.second_place.vessel:
        lines.setdefault(piece.second_place.vessel, _ONE)  # a line of 0 says that none is needed
    return {good: n for good, n in lines.items() if (n.amount if isinstance(n, Length) else n)}


def moved(recipe: Bag, moves: Moves) -> Bag:
    """Make all *moves* at once. A stem that is new takes the old one's position; others keep theirs."""
    if moves.keys().isdisjoint(recipe):
        return recipe
    staying = recipe.keys() - moves.keys()
    targets = {stem: moves.get(stem, (stem, _ONE)) for stem in recipe}
    new = (to for stem, (to, _) in targets.items() if stem in staying or to not in staying)
    out = dict.fromkeys(new, _NONE)
    for stem, (to, each) in targets.items():
        out[to] += recipe[stem] * each
    return out
