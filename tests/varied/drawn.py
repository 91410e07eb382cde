"""Sets to deal, drawn at random."""

from fractions import Fraction

from hypothesis import strategies as st

from sitegen.varied.asked import Asked, Kind

COSTS = st.integers(20, 600).map(lambda cents: Fraction(cents, 100))


@st.composite
def sets(draw: st.DrawFn, most_copies: int = 9, most_kinds: int = 6, most_each: int = 3) -> Asked:
    """Sets of whole recipes and of totals that do not divide."""
    copies = draw(st.integers(1, most_copies))
    whole = draw(st.booleans())
    each = st.integers(1, most_each)
    total = each.map(lambda n: n * copies) if whole else st.integers(0, most_each * copies)
    kinds = draw(st.lists(st.tuples(total, COSTS, st.booleans()), min_size=1, max_size=most_kinds))
    return Asked(
        copies=copies,
        kinds=tuple(Kind(f"s{i}", *kind) for i, kind in enumerate(kinds)),
        same=draw(st.sampled_from([Fraction(0), Fraction(3), Fraction(8, 3)])),
        alike=draw(st.sampled_from([Fraction(n, 10) for n in (0, 5, 7, 9)])),
        versions=draw(st.sampled_from([None, None, 2, 3])),
    )
