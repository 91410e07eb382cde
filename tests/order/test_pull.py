"""The pull list: whole stems, dealt between pieces and then between copies."""

from fractions import Fraction
from itertools import product

from hypothesis import given
from hypothesis import strategies as st

from sitegen.order.need import Portion
from sitegen.order.pull import Block, Row, between_copies, between_pieces, pull
from sitegen.price.priced import Made

NOTHING = Fraction(0)


def pulled_of(portions: list[Portion]) -> tuple[Block, ...]:
    """What is pulled where no piece is a varied set."""
    return pull(portions, between_pieces(portions), {})


def portion(name: str, copies: int, *, by_couple: bool = False, **recipe: str) -> Portion:
    stems = {stem: Fraction(n) for stem, n in recipe.items()}
    return Portion(name, Made(stems, {}, NOTHING, NOTHING, by_couple), copies)


def test_alike_copies_share_a_block() -> None:
    assert pulled_of([portion("bowl", 5, rose="3", olive="2")]) == (
        Block("bowl", 1, 5, (Row("rose", 3), Row("olive", 2))),
    )


def test_extra_stems_go_to_the_copies_with_the_fewest() -> None:
    # 5 × 3.4 = 17 roses: two bowls get a fourth. 5 × 2.6 = 13 olive: three get a third, the lean ones first.
    assert pulled_of([portion("bowl", 5, rose="3.4", olive="2.6")]) == (
        Block("bowl", 1, 2, (Row("rose", 4), Row("olive", 2))),
        Block("bowl", 3, 5, (Row("rose", 3), Row("olive", 3))),
    )


def test_copies_that_differ_make_the_next_block() -> None:
    # 5 roses, 5 olive and 6 fern in 4 bowls: 4 each, of three kinds.
    assert pulled_of([portion("bowl", 4, rose="1.25", olive="1.25", fern="1.5")]) == (
        Block("bowl", 1, 1, (Row("rose", 2), Row("olive", 1), Row("fern", 1))),
        Block("bowl", 2, 2, (Row("rose", 1), Row("olive", 2), Row("fern", 1))),
        Block("bowl", 3, 4, (Row("rose", 1), Row("olive", 1), Row("fern", 2))),
    )


def test_less_than_one_each_is_pulled_for_all_together() -> None:
    blocks = pulled_of([portion("bowl", 5, rose="4", dahlia="2/3")])
    assert blocks == (
        Block("bowl", 1, 5, (Row("rose", 4),)),
        Block("bowl", 1, 5, (Row("dahlia", 4, Fraction(2, 3)),), together=True),
    )
    assert [block.stems for block in blocks] == [4, 4]


def test_a_single_piece_is_no_set() -> None:
    assert pulled_of([portion("bouquet", 1, rose="4", olive="1/2")]) == (
        Block("bouquet", 1, 1, (Row("rose", 4), Row("olive", 1))),
    )


def test_what_the_couple_make_is_pulled_into_one_vase() -> None:
    assert pulled_of([portion("posy", 3, by_couple=True, rose="3", olive="1.5")]) == (
        Block("posy", 1, 3, (Row("rose", 9, Fraction(3)), Row("olive", 5, Fraction(3, 2))), together=True),
    )


def test_halves_of_two_pieces_make_one_stem() -> None:
    # 2.5 and 3.5 are 6 in all: the earlier takes the stem that both halves make.
    assert between_pieces([portion("a", 1, rose="2.5"), portion("b", 1, rose="3.5")]) == {
        "a": {"rose": 3},
        "b": {"rose": 3},
    }


def test_worked_event() -> None:
    # Dahlia 7 and 3.33 are 10.33, so 11: the bowls take the eleventh. Olive 4 and 12.5 are 16.5, so 17.
    bouquet = portion("hand-tied", 1, dahlia="7", rose="5", olive="4")
    bowls = portion("low-bowls", 5, dahlia="2/3", rose="4", olive="2.5")
    assert between_pieces([bouquet, bowls]) == {
        "hand-tied": {"dahlia": 7, "rose": 5, "olive": 4},
        "low-bowls": {"dahlia": 4, "rose": 20, "olive": 13},
    }


AMOUNTS = st.fractions(Fraction(1, 6), 6, max_denominator=6)
PORTIONS = st.lists(
    st.tuples(st.integers(1, 9), st.dictionaries(st.sampled_from("abcd"), AMOUNTS, min_size=1)),
    min_size=1,
    max_size=4,
)


def portions_of(rows: list[tuple[int, dict[str, Fraction]]]) -> list[Portion]:
    return [
        Portion(str(i), Made(recipe, {}, NOTHING, NOTHING, by_couple=False), copies)
        for i, (copies, recipe) in enumerate(rows)
    ]


def pulled(blocks: tuple[Block, ...], stem: str, piece: str | None = None) -> int:
    return sum(
        row.count * (1 if block.together else block.copies)
        for block, row in ((block, row) for block in blocks for row in block.rows)
        if row.stem == stem and piece in (None, block.piece)
    )


@given(PORTIONS)
def test_all_that_is_pulled_is_the_sum_rounded_up_once(rows: list[tuple[int, dict[str, Fraction]]]) -> None:
    blocks = pulled_of(portions_of(rows))
    for stem in "abcd":
        exact = sum((copies * recipe.get(stem, NOTHING) for copies, recipe in rows), NOTHING)
        assert pulled(blocks, stem) == -(-exact // 1)
        for i, (copies, recipe) in enumerate(rows):
            own = copies * recipe.get(stem, NOTHING)
            assert abs(pulled(blocks, stem, str(i)) - own) < 1


@given(PORTIONS)
def test_blocks_of_a_piece_number_all_copies_and_differ(rows: list[tuple[int, dict[str, Fraction]]]) -> None:
    blocks = pulled_of(portions_of(rows))
    for i, (copies, recipe) in enumerate(rows):
        own = [block for block in blocks if block.piece == str(i) and not block.together]
        if copies > 1 and any(n >= 1 for n in recipe.values()):
            numbers = [n for block in own for n in range(block.first, block.last + 1)]
            assert numbers == list(range(1, copies + 1))
        assert len({block.rows for block in own}) == len(own)


@given(st.dictionaries(st.sampled_from("abcde"), st.integers(0, 30), min_size=1), st.integers(1, 9))
def test_copies_differ_by_at_most_one_stem(totals: dict[str, int], copies: int) -> None:
    vases = between_copies(totals, copies)
    assert {stem: sum(vase[stem] for vase in vases) for stem in totals} == totals
    sizes = [sum(vase.values()) for vase in vases]
    assert max(sizes) - min(sizes) <= 1
    for stem, a, b in product(totals, vases, vases):
        assert abs(a[stem] - b[stem]) <= 1
