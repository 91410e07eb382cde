"""Tables, picks and replies drawn at random, as hypothesis strategies and from a seed."""

from random import Random

from hypothesis import strategies as st

from sitegen.choices.picks import Pick, Picks
from sitegen.choices.table import Part, Table, TableCharge, TablePiece
from sitegen.reply.code import Said

KEY, PID = b"K" * 32, bytes(range(16))
chances = st.randoms(use_true_random=False)


def random_table(chance: Random, most: int = 6) -> Table:
    return Table(
        digits=2,
        pieces=tuple(_piece(chance, i) for i in range(chance.randint(0, most))),
        charges=tuple(
            TableCharge(f"c{i}", Part(None, 500), 0, chance.random() < 0.6, taxable=True)
            for i in range(chance.randint(0, 3))
        ),
        discount=None,
        rates=(),
        included=False,
        per_line=False,
        payments=(None,),
    )


def _piece(chance: Random, i: int) -> TablePiece:
    answers = tuple(chance.randint(1, 5) for _ in range(chance.randint(0, 3)))
    count = 1
    for size in answers:
        count *= size
    least = chance.randint(0, 5)
    return TablePiece(
        id=f"p{i}",
        answers=answers,
        usual=tuple(0 for _ in answers),
        each=tuple(chance.randint(0, 9_000) for _ in range(count)),
        quantity=least,
        least=least,
        most=least + chance.choice((0, 0, 3, 250)),
        optional=chance.random() < 0.4,
        taxable=True,
    )


def random_picks(chance: Random, table: Table) -> Picks:
    """Picks that a page can make; how many of a piece that is left out is what we suggest."""
    pieces = []
    for piece in table.pieces:
        answers = tuple(chance.randrange(size) for size in piece.answers)
        out = piece.optional and chance.random() < 0.5
        pieces.append(Pick(answers, piece.quantity if out else chance.randint(piece.least, piece.most), out))
    optional = [i for i, charge in enumerate(table.charges) if charge.optional]
    return Picks(tuple(pieces), frozenset(i for i in optional if chance.random() < 0.5))


def random_said(chance: Random, table: Table) -> Said:
    return Said(
        revision=chance.randrange(1, 1 << 16),
        phone=chance.randrange(1 << 16),
        turn=chance.randrange(1 << 8),
        notes=chance.randrange(1 << 32),
        total=chance.randrange(1 << 40),
        picks=random_picks(chance, table),
    )
