"""What laws are tried on: tables, picks, recipes and amounts, drawn by hypothesis."""

from fractions import Fraction

from hypothesis import strategies as st

from sitegen.choices.picks import Pick, Picks
from sitegen.choices.table import Part, Table, TableCharge, TablePiece


def fractions(least: int, most: int, over: tuple[int, ...]) -> st.SearchStrategy[Fraction]:
    """Fractions from *least* to *most* over one of the denominators; far quicker to draw than any at all."""
    return st.sampled_from(over).flatmap(
        lambda d: st.integers(least * d, most * d).map(lambda n: Fraction(n, d))
    )


shares = fractions(0, 1, (1, 3, 7, 100, 10_000))
units = st.integers(min_value=0, max_value=10**7)
parts = st.one_of(shares.map(lambda s: Part(s, None)), units.map(lambda u: Part(None, u)))
amounts = fractions(0, 100, (1, 2, 3, 12))
bags = st.dictionaries(st.sampled_from("abcdefgh"), amounts, max_size=6)


@st.composite
def pieces(draw: st.DrawFn) -> TablePiece:
    answers = tuple(draw(st.lists(st.integers(1, 3), max_size=2)))
    combinations = 1
    for size in answers:
        combinations *= size
    each = tuple(draw(st.lists(units, min_size=combinations, max_size=combinations)))
    usual = tuple(draw(st.integers(0, size - 1)) for size in answers)
    least, quantity, most = sorted(draw(st.tuples(*[st.integers(0, 40)] * 3)))
    return TablePiece(
        "p", answers, usual, each, quantity, least, most, draw(st.booleans()), draw(st.booleans())
    )


charges = st.builds(
    TableCharge,
    id=st.just("c"),
    part=parts,
    least=st.integers(0, 50_000),
    optional=st.booleans(),
    taxable=st.booleans(),
)


@st.composite
def tables(draw: st.DrawFn) -> Table:
    return Table(
        digits=draw(st.sampled_from((0, 2, 3))),
        pieces=tuple(draw(st.lists(pieces(), min_size=1, max_size=3))),
        charges=tuple(draw(st.lists(charges, max_size=2))),
        discount=draw(st.none() | parts),
        rates=tuple(draw(st.lists(shares, max_size=3))),
        included=draw(st.booleans()),
        per_line=draw(st.booleans()),
        payments=(*draw(st.lists(parts, max_size=3)), None),
    )


@st.composite
def picks_of(draw: st.DrawFn, table: Table) -> Picks:
    chosen = frozenset(i for i, one in enumerate(table.charges) if one.optional and draw(st.booleans()))
    return Picks(tuple(draw(_pick(piece)) for piece in table.pieces), chosen)


@st.composite
def _pick(draw: st.DrawFn, piece: TablePiece) -> Pick:
    answers = tuple(draw(st.integers(0, size - 1)) for size in piece.answers)
    quantity = draw(st.integers(piece.least, piece.most))
    return Pick(answers, quantity, out=piece.optional and draw(st.booleans()))


@st.composite
def tables_and_picks(draw: st.DrawFn) -> tuple[Table, Picks]:
    table = draw(tables())
    return table, draw(picks_of(table))


positive = fractions(0, 100, (1, 2, 3, 12)).map(lambda n: n + Fraction(1, 12))
