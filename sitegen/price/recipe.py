"""What goes into one piece for the answers given: stems, goods, work."""

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction
from itertools import compress, product
from typing import TypeAlias, TypeVar

from sitegen.model.event import StandIn
from sitegen.model.piece import Answer, Piece
from sitegen.values.amount import StemAmount
from sitegen.values.bag import Bag
from sitegen.values.length import Length

Moves: TypeAlias = Mapping[str, tuple[str, Fraction]]
"""Stem → the stem that takes its place, and how many of that for one."""

T = TypeVar("T")
_ONE = Fraction(1)
_NONE = Fraction(0)


@dataclass(frozen=True, slots=True)
class Work:
    """What building one piece takes, and what its answers add in money."""

    minutes: Fraction
    add: Fraction
    by_couple: bool


def all_answers(piece: Piece) -> Iterator[tuple[int, ...]]:
    """Every combination of answers, an index for each choice, the last choice turning fastest."""
    return product(*(range(len(choice.answers)) for choice in piece.choices))


def stand_ins(swaps: Iterable[StandIn]) -> Moves:
    """An event's `swaps` as moves."""
    return {swap.from_: (swap.to, swap.each) for swap in swaps}


def picked(piece: Piece, answers: tuple[int, ...]) -> list[Answer]:
    return [choice.answers[index] for choice, index in zip(piece.choices, answers, strict=True)]


def once_each(
    piece: Piece, matters: Callable[[Answer], object], make: Callable[[list[Answer]], T]
) -> Iterator[T]:
    """Give *make* of the picked answers for every combination, computed once where only answers differ
    that do not matter to it: how a ribbon falls changes no stem.
    """
    turns = [any(matters(answer) for answer in choice.answers) for choice in piece.choices]
    known: dict[tuple[int, ...], T] = {}
    for answers in all_answers(piece):
        key = tuple(compress(answers, turns))
        if key not in known:
            known[key] = make(picked(piece, answers))
        yield known[key]


def recipe_of(piece: Piece, given: list[Answer], bunch: Callable[[str], int], event_moves: Moves) -> Bag:
    """Give the stems of one piece for the answers *given*; no amount is 0.

    Lines that an answer sets replace the piece's own; then all swaps of the
    answers are made at once, then the event's stand-ins. *bunch* says how many
    stems are in the bunch that prices a stem: "0.5 bunch" is counted by it,
    before any swap.
    """
    lines: dict[str, StemAmount] = dict(piece.recipe)
    for answer in given:
        lines.update(answer.recipe)
    stems = {stem: n.stems(bunch(stem)) if n.bunches else n.count for stem, n in lines.items() if n.count}
    swaps = {old: (new, _ONE) for answer in given for old, new in answer.swap.items()}
    return moved(moved(stems, swaps), event_moves)


def kept_of(piece: Piece, given: list[Answer], event_moves: Moves) -> tuple[str, ...]:
    """Name the stems that a varied set has the same in each; what stands in for one of them is kept too."""
    if piece.varied is None:
        return ()
    swaps = {old: new for answer in given for old, new in answer.swap.items()}
    names = (swaps.get(name, name) for name in piece.varied.keep)
    return tuple(dict.fromkeys(event_moves.get(name, (name, _ONE))[0] for name in names))


def goods_of(piece: Piece, given: list[Answer]) -> Mapping[str, Fraction | Length]:
    """Give the goods of one piece for the answers *given*; no amount is 0.

    A second place's vessel is one more good, unless it has a line.
    """
    lines = dict(piece.goods)
    for answer in given:
        lines.update(answer.goods)
    if piece.second_place and piece.second_place.vessel:
        lines.setdefault(piece.second_place.vessel, _ONE)  # a line of 0 says that none is needed
    return {good: n for good, n in lines.items() if (n.amount if isinstance(n, Length) else n)}


def work_of(piece: Piece, given: list[Answer]) -> Work:
    """Give the minutes for one piece, the money added, and whether the couple make it."""
    return Work(
        minutes=next((a.minutes for a in given if a.minutes is not None), piece.minutes),
        add=sum((answer.add for answer in given if answer.add), _NONE),
        by_couple=next((a.made_by for a in given if a.made_by), piece.made_by) == "couple",
    )


def moved(recipe: Bag, moves: Moves) -> Bag:
    """Make all *moves* at once. A stem that is new takes the old one's position; others keep theirs."""
    if moves.keys().isdisjoint(recipe):
        return recipe
    staying = recipe.keys() - moves.keys()
    out: dict[str, Fraction] = {}
    for stem, n in recipe.items():
        if stem in staying:
            out[stem] = n
        elif moves[stem][0] not in staying:
            out.setdefault(moves[stem][0], _NONE)
    for stem in recipe.keys() - staying:
        to, each = moves[stem]
        out[to] += recipe[stem] * each
    return out
