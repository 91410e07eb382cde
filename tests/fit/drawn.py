"""Small proposals of which every way to stand can be looked at."""

from collections.abc import Iterator
from fractions import Fraction
from itertools import product

from hypothesis import strategies as st

from sitegen.choices.picks import Pick, Picks
from sitegen.choices.table import Part, Table, TableCharge, TablePiece
from sitegen.fit.ways import Matter
from tests.laws.drawn import fractions

shares = fractions(0, 1, (1, 3, 7, 20, 400))
ratings = st.integers(1, 5)


@st.composite
def pieces(draw: st.DrawFn, most_each: int) -> TablePiece:
    answers = tuple(draw(st.lists(st.integers(1, 3), max_size=2)))
    combinations = 1
    for size in answers:
        combinations *= size
    step = draw(st.sampled_from((1, 50, 100)))
    each = tuple(step * draw(st.integers(0, most_each // step)) for _ in range(combinations))
    usual = tuple(draw(st.integers(0, size - 1)) for size in answers)
    quantity = draw(st.integers(0, 6))
    least, most = max(0, quantity - draw(st.integers(0, 2))), quantity + draw(st.integers(0, 1))
    optional, taxable = draw(st.booleans()), draw(st.integers(0, 3)) > 0
    return TablePiece("p", answers, usual, each, quantity, least, most, optional, taxable)


def parts(most: int) -> st.SearchStrategy[Part]:
    return st.one_of(
        shares.map(lambda share: Part(share, None)), st.integers(0, most).map(lambda units: Part(None, units))
    )


@st.composite
def small_tables(draw: st.DrawFn) -> Table:
    """Tables of one to three pieces; amounts are small enough that rounding decides."""
    most = draw(st.sampled_from((30, 500, 20_000)))
    charge = st.builds(
        TableCharge, st.just("c"), parts(most), st.integers(0, 4 * most), st.booleans(), st.booleans()
    )
    return Table(
        digits=2,
        pieces=tuple(draw(st.lists(pieces(most), min_size=1, max_size=3))),
        charges=tuple(draw(st.lists(charge, max_size=2))),
        discount=draw(st.none() | parts(3 * most)),
        rates=tuple(draw(st.lists(shares, max_size=2))),
        included=draw(st.booleans()) and draw(st.booleans()),
        per_line=draw(st.booleans()),
        payments=(None,),
    )


@st.composite
def asked(draw: st.DrawFn) -> tuple[Table, tuple[Matter, ...], frozenset[int]]:
    table = draw(small_tables())
    matters = tuple(
        Matter(draw(ratings), tuple(draw(ratings) for _ in piece.answers)) for piece in table.pieces
    )
    optional = [i for i, charge in enumerate(table.charges) if charge.optional]
    return table, matters, frozenset(i for i in optional if draw(st.booleans()))


def all_picks(table: Table, charges: frozenset[int]) -> Iterator[Picks]:
    """Every pick there is, one by one."""
    for every in product(*(list(_every(piece)) for piece in table.pieces)):
        yield Picks(every, charges)


def _every(piece: TablePiece) -> Iterator[Pick]:
    for answers in product(*map(range, piece.answers)):
        for quantity in range(piece.least, piece.most + 1):
            yield Pick(answers, quantity)
    if piece.optional:
        yield Pick(piece.usual, piece.quantity, out=True)


def measured(table: Table, matters: tuple[Matter, ...], picks: Picks) -> tuple[int, int]:
    """What *picks* keep of what matters, and how many changes they are: said once more, and plainly."""
    kept = changes = 0
    for piece, matter, pick in zip(table.pieces, matters, picks.pieces, strict=True):
        if pick.out or (pick.quantity == 0 and piece.quantity > 0):
            changes += 1  # it is not there: nothing of it stays
            continue
        kept += matter.piece
        if pick.quantity == piece.quantity:
            kept += matter.piece
        else:
            changes += 1
        for answer, usual, worth in zip(pick.answers, piece.usual, matter.answers, strict=True):
            if answer == usual:
                kept += worth
            else:
                changes += 1
    return kept, changes


def share_of(total: int, thousandths: int) -> int:
    return int(Fraction(total * thousandths, 1000))
