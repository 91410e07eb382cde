"""Where stems go: all of them, in every form, none out of sight, and always in the same places."""

from dataclasses import replace
from math import hypot

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sitegen.pictures.sketch.arrange import arranged, together
from sitegen.pictures.sketch.brief import Brief, Form
from sitegen.pictures.sketch.heads import heads_of, times_drawn
from sitegen.pictures.sketch.kinds import HABITS, HEADS
from sitegen.pictures.sketch.spots import Layout, Spot, polar
from tests.pictures.sketch.briefs import FORMS, MIXED, brief, stem


def spots(layout: Layout) -> list[Spot]:
    return [item for item in layout.items if isinstance(item, Spot)]


def counts(layout: Layout, lines: int) -> list[int]:
    """How many stamps there are of each line of the recipe."""
    return [sum(spot.stem == line for spot in spots(layout)) for line in range(lines)]


@pytest.mark.parametrize("form", FORMS)
def test_every_stem_is_drawn_in_its_count(form: Form) -> None:
    # Two stems of spray roses carry three blooms each.
    assert counts(arranged(brief(form)), 6) == [3, 4, 6, 1, 2, 3]


KINDS = st.sampled_from(sorted(HABITS))
AMOUNTS = st.sampled_from(["1", "2", "5", "12", "1/2", "2/3", "7/2"])
STEMS = st.builds(stem, KINDS, AMOUNTS)
WITHOUT_VASES = [form for form in FORMS if form != "bud-vases"]


@given(st.sampled_from(WITHOUT_VASES), st.lists(STEMS, min_size=1, max_size=5))
def test_any_recipe_is_drawn_whole_and_on_the_page(form: Form, stems: list[object]) -> None:
    asked = Brief(form, tuple(stems))  # type: ignore[arg-type]  # the strategy makes stems
    layout = arranged(asked)
    left, top, right, bottom = layout.page
    for line, one in enumerate(asked.stems):
        drawn = [spot for spot in spots(layout) if spot.stem == line]
        assert len(drawn) >= times_drawn(one.amount)
        assert len(drawn) == times_drawn(one.amount) or one.kind in {"spray-rose", "daisy"}
        for spot in drawn:
            assert left <= spot.at[0] <= right
            assert top <= spot.at[1] <= bottom


@pytest.mark.parametrize(("amount", "drawn"), [("1/3", 1), ("1", 1), ("3/2", 2), ("7/3", 2), ("300", 300)])
def test_parts_of_a_stem_are_drawn_as_stems(amount: str, drawn: int) -> None:
    assert times_drawn(stem("peony", amount).amount) == drawn


def test_half_a_spray_has_fewer_blooms_and_a_third_of_a_sprig_is_shorter() -> None:
    half, whole = (arranged(brief("hand-tied", stem("spray-rose", n))) for n in ("1/2", "1"))
    assert counts(half, 1) == [2]
    assert counts(whole, 1) == [3]
    short, long = (arranged(brief("low", stem("olive", n, role="foliage"))) for n in ("1/3", "1"))
    first = [next(spot for spot in spots(one) if spot.stem == 0).inches for one in (short, long)]
    assert first[0] < first[1]


def test_thirds_of_a_stem_share_three_vases() -> None:
    layout = arranged(brief("bud-vases", *(stem(kind, "1/3") for kind in ("tulip", "anemone", "ranunculus"))))
    assert counts(layout, 3) == [1, 1, 1]


@pytest.mark.parametrize("form", FORMS)
def test_the_same_brief_gives_the_same_places(form: Form) -> None:
    assert arranged(brief(form)) == arranged(brief(form))


def test_other_colours_change_no_place() -> None:
    other = tuple(replace(one, colour="#112233") for one in MIXED)
    one, two = arranged(brief()), arranged(brief("hand-tied", *other))
    assert [(spot.at, spot.turn, spot.inches) for spot in spots(one)] == [
        (spot.at, spot.turn, spot.inches) for spot in spots(two)
    ]


@pytest.mark.parametrize("form", ["hand-tied", "low", "upright", "garland"])
def test_no_head_hides_another(form: Form) -> None:
    """Two heads overlap by less than half of the smaller one's width."""
    many = (stem("garden-rose", 9, role="form"), stem("ranunculus", 9), stem("dahlia", 3, role="form"))
    heads = [spot for spot in spots(arranged(brief(form, *many))) if spot.kind in HEADS]
    for n, one in enumerate(heads):
        for other in heads[n + 1 :]:
            apart = hypot(one.at[0] - other.at[0], one.at[1] - other.at[1])
            assert apart > 0.5 * (one.inches + other.inches) / 2


@pytest.mark.parametrize("form", [form for form in FORMS if form != "bud-vases"])
def test_a_fuller_answer_takes_more_room(form: Form) -> None:
    def area(count: int) -> float:
        heads = [spot for spot in spots(arranged(brief(form, stem("garden-rose", count)))) if spot.stem == 0]
        xs, ys = [spot.at[0] for spot in heads], [spot.at[1] for spot in heads]
        return (max(xs) - min(xs) + 3) * (max(ys) - min(ys) + 3)

    assert area(6) < area(12) < area(24)


def test_a_set_has_one_scale() -> None:
    few, many = brief("hand-tied", stem("peony", 3)), brief("hand-tied", stem("peony", 12))
    page = together((few, many))
    for one in (few, many):
        left, top, right, bottom = arranged(one).page
        assert page[0] <= left
        assert page[1] <= top
        assert page[2] >= right
        assert page[3] >= bottom


def test_blooms_are_drawn_in_their_size() -> None:
    layout = arranged(brief("hand-tied", stem("dahlia", 1, inches=4), stem("dahlia", 1, inches=2)))
    large, small = ([spot.inches for spot in spots(layout) if spot.stem == line] for line in (0, 1))
    assert large == [4.0]
    assert small == [2.0]


def test_focal_flowers_lie_further_in_than_the_rest() -> None:
    stems = (stem("peony", 3, role="form"), stem("peony", 15, role="filler"))
    heads = [spot for spot in spots(arranged(brief("hand-tied", *stems))) if spot.stem >= 0]
    middle = (sum(s.at[0] for s in heads) / len(heads), sum(s.at[1] for s in heads) / len(heads))

    def far(line: int) -> float:
        found = [hypot(s.at[0] - middle[0], s.at[1] - middle[1]) for s in heads if s.stem == line]
        return sum(found) / len(found)

    assert far(0) < far(1)


@pytest.mark.parametrize("form", FORMS)
@pytest.mark.parametrize("kind", ["peony", "eucalyptus", "delphinium", "filler"])
def test_one_stem_alone_is_a_sketch_too(form: Form, kind: str) -> None:
    layout = arranged(brief(form, stem(kind, 1)))
    assert counts(layout, 1) == [1]


def test_three_hundred_stems_are_all_there() -> None:
    layout = arranged(brief("arch", stem("garden-rose", 150), stem("eucalyptus", 150, role="foliage")))
    assert counts(layout, 2) == [150, 150]


def test_leaves_that_fill_gaps_are_the_recipes_own_and_no_more_than_it_has() -> None:
    asked = brief("low", stem("eucalyptus", 2, role="foliage"), stem("peony", 1))
    extra = [spot for spot in spots(arranged(asked)) if spot.stem < 0]
    assert {spot.kind for spot in extra} == {"eucalyptus"}
    assert len(extra) <= 10  # five behind the heads, five over the rim


def test_without_foliage_in_the_recipe_none_is_seen_beyond_the_heads() -> None:
    found = spots(arranged(brief("hand-tied", stem("peony", 12))))
    middle = (0.0, sum(spot.at[1] for spot in found if spot.stem == 0) / 12)
    reach = max(hypot(spot.at[0], spot.at[1] - middle[1]) + 2 for spot in found if spot.stem == 0)
    for spot in found:
        if spot.stem < 0:
            x, y = polar(spot.turn, spot.inches, spot.at)
            assert hypot(x, y - middle[1]) < reach


def test_a_large_bloom_never_becomes_more_heads() -> None:
    assert [len(one.blooms) for one in heads_of(brief("low", stem("hydrangea", 2)))] == [1, 1]
