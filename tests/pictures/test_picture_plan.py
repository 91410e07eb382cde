from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sitegen.pictures.head import PhotoHead
from sitegen.pictures.plan import JPEG, QUICK, WEBP, Cut, Encoding, Look, picture, plan, srcset

PATH = Path("a.jpg")


def photo(width: int, height: int) -> PhotoHead:
    return PhotoHead("JPEG", width, height, "ab" * 20)


def shapes(width: int, height: int, look: Look | None = None) -> list[tuple[int, int, Encoding]]:
    job = plan(PATH, photo(width, height), look or Look())
    return [(one.width, one.height, one.encoding) for one in job.renditions]


def test_longest_edges_of_a_photo_across_and_upright() -> None:
    across = [(1600, 1200, WEBP), (960, 720, WEBP), (960, 720, JPEG), (480, 360, WEBP)]
    assert shapes(4032, 3024) == across
    assert shapes(3024, 4032) == [(height, width, encoding) for width, height, encoding in across]


def test_nothing_is_made_larger_and_equal_sizes_are_made_once() -> None:
    assert shapes(1200, 900) == [(1200, 900, WEBP), (960, 720, WEBP), (960, 720, JPEG), (480, 360, WEBP)]
    assert shapes(960, 700) == [(960, 700, WEBP), (960, 700, JPEG), (480, 350, WEBP)]
    assert shapes(300, 200) == [(300, 200, WEBP), (300, 200, JPEG)]


def test_a_preview_takes_less_work_under_other_names() -> None:
    job, quick = plan(PATH, photo(900, 600), Look()), plan(PATH, photo(900, 600), Look(quick=True))
    assert [one.encoding for one in quick.renditions] == [QUICK, JPEG, QUICK]
    assert job.renditions[1] == quick.renditions[1]
    assert job.renditions[0].name != quick.renditions[0].name


def test_a_cut_has_its_own_box_sizes_and_names() -> None:
    opening = Cut(Fraction("0.14"), Fraction("0.055"), Fraction("0.92"), Fraction("0.75"))
    whole, cut = plan(PATH, photo(4000, 3000), Look()), plan(PATH, photo(4000, 3000), Look(), opening)
    assert whole.box == (0, 0, 4000, 3000)
    assert cut.box == (560, 165, 3680, 2250)
    assert (cut.renditions[0].width, cut.renditions[0].height) == (1600, 1069)
    assert {one.name for one in cut.renditions}.isdisjoint(one.name for one in whole.renditions)


@pytest.mark.parametrize(
    "sides", [(0, 0, 0, 1), (0, Fraction(1, 2), 1, Fraction(1, 2)), (-1, 0, 1, 1), (0, 0, 2, 1)]
)
def test_a_cut_outside_the_photo_is_our_own_mistake(
    sides: tuple[Fraction, Fraction, Fraction, Fraction],
) -> None:
    with pytest.raises(ValueError, match="inside the photo"):
        Cut(*sides)


def test_names_follow_the_bytes_and_the_steps_but_not_the_path() -> None:
    one = plan(PATH, photo(4000, 3000), Look())
    assert plan(Path("moved.jpg"), photo(4000, 3000), Look()).renditions == one.renditions
    other = plan(PATH, replace(photo(4000, 3000), digest="cd" * 20), Look())
    assert {x.name for x in one.renditions}.isdisjoint(x.name for x in other.renditions)
    # 480 made from 1200 has other pixels than 480 made from 960.
    names = [
        plan(PATH, photo(4000, 3000), Look((1200, 480), above)).renditions[-1].name for above in (1200, 960)
    ]
    assert names[0] != names[1]


def test_a_picture_has_all_that_a_template_shows() -> None:
    job = plan(PATH, photo(4000, 3000), Look())
    shown = picture(job, "Blush roses", "inspiration", "R. Weir")
    assert (shown.alt, shown.kind, shown.credit) == ("Blush roses", "inspiration", "R. Weir")
    assert [one.width for one in shown.renditions] == [1600, 960, 480]
    assert (shown.fallback.width, shown.fallback.name[-5:]) == (960, ".jpeg")
    first, second, third = (one.name for one in shown.renditions)
    assert srcset(shown, "p") == f"p/{first} 1600w, p/{second} 960w, p/{third} 480w"


@given(
    st.tuples(st.integers(1, 20_000), st.integers(1, 20_000)),
    st.lists(st.integers(1, 4000), min_size=1, max_size=5),
    st.integers(1, 4000),
)
def test_every_plan_is_whole(size: tuple[int, int], edges: list[int], fallback: int) -> None:
    job = plan(PATH, photo(*size), Look(tuple(edges), fallback))
    names = [one.name for one in job.renditions]
    assert len(set(names)) == len(names)
    assert sum(one.encoding == JPEG for one in job.renditions) == 1
    widths = [(one.width, one.height) for one in job.renditions]
    assert widths == sorted(widths, reverse=True)
    for width, height in widths:
        assert 1 <= width <= size[0]
        assert 1 <= height <= size[1]
        assert max(width, height) in {*edges, fallback, max(size)}
        scale = Fraction(max(width, height), max(size))
        for side, full in ((width, size[0]), (height, size[1])):
            assert side == 1 or abs(side - full * scale) <= Fraction(1, 2)
