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


def picks_json(picks: Picks) -> dict[str, Any]:
    """Give *picks* as plain data.

    {"pieces": [{"answers": [1], "quantity": 5, "out": false}], "charges": [1]}
    """
    return {
        "pieces": [
            {"answers": list(pick.answers), "quantity": pick.quantity, "out": pick.out}
            for pick in picks.pieces
        ],
        "charges": sorted(picks.charges),
    }
