"""Need: the sum first, then the loss, then whole stems."""

from fractions import Fraction
from itertools import count
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sitegen.model.catalogue import Good, Stem
from sitegen.order.need import Need, Portion, need
from sitegen.price.priced import Made
from sitegen.values.length import Length, length

NOTHING = Fraction(0)
ROSE: dict[str, Any] = {
    "name": "Rose",
    "role": "mass",
    "colour": "#ffffff",
    "offers": [{"supplier": "farm", "bunch": "25", "price": "20"}],
}


def portion(name: str, copies: int, recipe: dict[str, Any], goods: dict[str, Any] | None = None) -> Portion:
    stems = {stem: Fraction(n) for stem, n in recipe.items()}
    return Portion(name, Made(stems, goods or {}, NOTHING, NOTHING, by_couple=False), copies)


def roses(loss: str, *portions: Portion, own: str | None = None) -> int:
    stem = Stem.model_validate(ROSE if own is None else {**ROSE, "loss": own})
    return need(portions, {"rose": stem}, {}, Fraction(loss)).stems["rose"]


# Ten in the hundred more, in whole stems. Source: integer arithmetic, n × 110 / 100 rounded up; the
# trap is binary floating point, where math.ceil(50 * 1.10) is 56. 63 roses → 69.3 → 70 and 72 roses →
# 79.2 → 80 are the same arithmetic.
@pytest.mark.parametrize(
    ("bare", "with_loss"), [(50, 55), (90, 99), (100, 110), (110, 121), (63, 70), (72, 80)]
)
def test_loss_is_exact(bare: int, with_loss: int) -> None:
    assert roses("0.1", portion("bowl", 1, {"rose": bare})) == with_loss
    assert roses("0.1", portion("bowl", bare, {"rose": 1})) == with_loss


def test_the_sum_comes_before_the_rounding() -> None:
    # Ten pieces of 2.5: 25, with 10 % 27.5, so 28; rounding each first would buy 33.
    assert roses("0.1", *(portion(f"bowl-{i}", 1, {"rose": "2.5"}) for i in range(10))) == 28


def test_a_stem_s_own_loss_stands_in_place_of_the_studio_s() -> None:
    assert roses("0.1", portion("bowl", 1, {"rose": 50}), own="0%") == 50
    assert roses("0.1", portion("bowl", 1, {"rose": 50}), own="20%") == 60


def test_thirds_add_up_to_wholes() -> None:
    assert roses("0", portion("vase", 27, {"rose": "1/3"})) == 9


def test_a_piece_left_out_takes_nothing() -> None:
    found = need([portion("bowl", 0, {"rose": 50})], {}, {}, Fraction(0))
    assert found == Need({}, {}, {}, {}, {}, ())


def goods_need(*portions: Portion) -> Need:
    goods = {
        "silk": {"name": "Silk", "loss": "5%", "packs": [{"supplier": "x", "length": "10 yd", "price": "9"}]},
        "pin": {"name": "Pins", "loss": "10%", "packs": [{"supplier": "x", "pieces": "144", "price": "6"}]},
        "jar": {"name": "Jar", "hire": "2.00"},
    }
    return need(portions, {}, {k: Good.model_validate(v) for k, v in goods.items()}, Fraction(1, 10))


def test_a_part_of_a_hire_piece_is_a_whole_one() -> None:
    half = portion("vase", 3, {}, {"jar": Fraction(1, 2)})
    assert goods_need(half).hire == {"jar": 2}
    assert goods_need(half, half).hire == {"jar": 3}, "summed first, then counted whole"


def test_goods_carry_their_own_loss_alone() -> None:
    found = goods_need(
        portion("one", 3, {}, {"silk": length("1.5 yd"), "pin": Fraction(3), "jar": Fraction(1)}),
        portion("two", 2, {}, {"silk": length("18 in"), "pin": Fraction(1)}),
    )
    # 3 × 1.5 yd + 2 × 0.5 yd = 5.5 yd, with 5 % 5.775 yd; 9 + 2 = 11 pins, with 10 % 12.1, so 13.
    assert found.lengths == {"silk": Length(Fraction("5.775"), "yd")}
    assert (found.pieces, found.hire, found.goods) == ({"pin": 13}, {"jar": 3}, ("silk", "pin"))
    assert [(str(cut.length), cut.piece, cut.copies) for cut in found.cuts["silk"]] == [
        ("1.5 yd", "one", 3),
        ("18 in", "two", 2),
    ]


AMOUNTS = st.fractions(Fraction(1, 6), 9, max_denominator=6)


@given(st.lists(st.tuples(st.integers(1, 12), AMOUNTS), min_size=1, max_size=5), st.integers(0, 40))
def test_need_is_the_fewest_stems_that_cover_everything(
    pieces: list[tuple[int, Fraction]], loss: int
) -> None:
    found = roses(f"{loss}/100", *(portion(f"p{i}", n, {"rose": each}) for i, (n, each) in enumerate(pieces)))
    in_parts = sum(int(n * each * 60) for n, each in pieces) * (100 + loss)  # in 6000ths of a stem
    fewest = next(n for n in count() if n * 6000 >= in_parts)
    assert found == fewest
