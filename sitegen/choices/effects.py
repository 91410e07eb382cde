"""What each answer would change, from where the picks stand."""

from dataclasses import dataclass, replace

from sitegen.choices.picks import Picks, each_of
from sitegen.choices.table import Table
from sitegen.choices.totals import totals


@dataclass(frozen=True, slots=True)
class Effect:
    """Of one answer, in smallest units: change of the price each, of the line, and the total it leads to.

    The answer that is picked changes nothing and leads to the total as it is.
    """

    each: int
    line: int
    total: int


def answer_effects(table: Table, picks: Picks, piece: int) -> tuple[tuple[Effect, ...], ...]:
    """Give the effect of every answer to every choice of the piece with that index, others kept as picked."""
    sizes = table.pieces[piece].answers
    return tuple(
        tuple(_effect(table, picks, piece, choice, answer) for answer in range(size))
        for choice, size in enumerate(sizes)
    )


def _effect(table: Table, picks: Picks, piece: int, choice: int, answer: int) -> Effect:
    pick = picks.pieces[piece]
    answers = (*pick.answers[:choice], answer, *pick.answers[choice + 1 :])
    other = replace(pick, answers=answers)
    changed = replace(picks, pieces=(*picks.pieces[:piece], other, *picks.pieces[piece + 1 :]))
    each = each_of(table.pieces[piece], answers) - each_of(table.pieces[piece], pick.answers)
    return Effect(each, 0 if pick.out else each * pick.quantity, totals(table, changed).total)
