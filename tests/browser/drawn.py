"""Tables and picks drawn by chance from a fixed seed."""

from fractions import Fraction
from math import prod
from random import Random

from sitegen.choices.picks import Pick, Picks
from sitegen.choices.table import Part, Table, TableCharge, TablePiece

RATES = [Fraction(text) for text in ("0.0825", "0.19", "0.05", "0.09975", "0.07", "0", "1/3")]


def a_part(chance: Random, most: int) -> Part:
    if chance.random() < 0.5:
        return Part(Fraction(chance.randint(0, 400), chance.choice((300, 1000, 10_000))), None)
    return Part(None, chance.randint(0, most))


def a_piece(chance: Random, number: int) -> TablePiece:
    answers = tuple(chance.randint(1, 4) for _ in range(chance.randint(0, 3)))
    each = tuple(chance.choice((0, chance.randint(1, 2_000_000))) for _ in range(prod(answers)))
    least = chance.randint(0, 3)
    usual = least + chance.randint(0, 20)
    most = usual + chance.randint(0, 40)
    suggested = tuple(chance.randrange(size) for size in answers)
    optional, taxable = chance.random() < 0.3, chance.random() < 0.8
    return TablePiece(f"piece-{number}", answers, suggested, each, usual, least, most, optional, taxable)


def a_charge(chance: Random, number: int) -> TableCharge:
    part = a_part(chance, 100_000)
    least = 0 if part.share is None else chance.choice((0, chance.randint(1, 50_000)))
    return TableCharge(f"charge-{number}", part, least, chance.random() < 0.4, chance.random() < 0.6)


def a_table(chance: Random) -> Table:
    return Table(
        digits=chance.choice((0, 2, 3)),
        pieces=tuple(a_piece(chance, i) for i in range(chance.randint(1, 12))),
        charges=tuple(a_charge(chance, i) for i in range(chance.randint(0, 4))),
        discount=chance.choice((None, a_part(chance, 500_000))),
        rates=tuple(chance.sample(RATES, chance.randint(0, 3))),
        included=chance.random() < 0.5,
        per_line=chance.random() < 0.5,
        payments=(*(a_part(chance, 200_000) for _ in range(chance.randint(0, 3))), None),
    )


def some_picks(table: Table, chance: Random) -> Picks:
    pieces = tuple(
        Pick(
            tuple(chance.randrange(size) for size in piece.answers),
            chance.randint(piece.least, piece.most),
            piece.optional and chance.random() < 0.4,
        )
        for piece in table.pieces
    )
    optional = (i for i, charge in enumerate(table.charges) if charge.optional)
    return Picks(pieces, frozenset(i for i in optional if chance.random() < 0.5))
