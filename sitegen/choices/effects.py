"""What each answer would change, from where the picks stand."""

from dataclasses import dataclass

from sitegen.choices.picks import Picks, each_of
from sitegen.choices.table import Table
from sitegen.choices.totals import lines_of, total_of


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
    lines = lines_of(table, picks)
    pick, prices = picks.pieces[piece], table.pieces[piece]
    now = each_of(prices, pick.answers)
    leads_to: dict[int, int] = {}  # answers that change a line alike lead to one total

    def effect(choice: int, answer: int) -> Effect:
        answers = (*pick.answers[:choice], answer, *pick.answers[choice + 1 :])
        each = each_of(prices, answers) - now
        line = 0 if pick.out else each * pick.quantity
        if line not in leads_to:
            changed = (*lines[:piece], lines[piece] + line, *lines[piece + 1 :])
            leads_to[line] = total_of(table, changed, picks.charges)
        return Effect(each, line, leads_to[line])

    return tuple(tuple(effect(c, a) for a in range(size)) for c, size in enumerate(prices.answers))
