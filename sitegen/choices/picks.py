"""What one couple picked."""

from dataclasses import dataclass
from typing import Any

from sitegen.choices.table import Table, TablePiece


@dataclass(frozen=True, slots=True)
class Pick:
    """Of one piece: an answer's index for each choice, how many, and whether it is left out."""

    answers: tuple[int, ...]
    quantity: int
    out: bool = False


@dataclass(frozen=True, slots=True)
class Picks:
    """A pick for each piece of the table, and the indexes of the optional charges that were chosen."""

    pieces: tuple[Pick, ...]
    charges: frozenset[int] = frozenset()


def usual_picks(table: Table) -> Picks:
    """The picks as we suggest: optional pieces are in, optional charges are not."""
    return Picks(tuple(Pick(piece.usual, piece.quantity) for piece in table.pieces))


def each_of(piece: TablePiece, answers: tuple[int, ...]) -> int:
    """Give the price of one *piece* in smallest units for *answers*."""
    index = 0
    for size, answer in zip(piece.answers, answers, strict=True):
        index = index * size + answer
    return piece.each[index]


def charged(table: Table, picks: Picks, charge: int) -> bool:
    """Say whether the charge with that index is charged: always, unless it is optional and was not chosen."""
    return not table.charges[charge].optional or charge in picks.charges


def picks_json(table: Table, picks: Picks) -> dict[str, Any]:
    """Give *picks* as plain data: a column for each question, and for each charge whether it is charged.

    {"answers": [[1], [0, 2]], "quantities": [5, 1], "out": [false, true], "charges": [true, false]}
    """
    return {
        "answers": [list(pick.answers) for pick in picks.pieces],
        "quantities": [pick.quantity for pick in picks.pieces],
        "out": [pick.out for pick in picks.pieces],
        "charges": [charged(table, picks, i) for i in range(len(table.charges))],
    }
