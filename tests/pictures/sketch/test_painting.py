"""The painter: the same pixels each time, paint where stems are, paper where none are."""

import hashlib
from io import BytesIO

import numpy as np
import pytest
from PIL import Image

from sitegen.pictures.sketch.arrange import arranged
from sitegen.pictures.sketch.brief import Form
from sitegen.pictures.sketch.kinds import HABITS
from sitegen.pictures.sketch.paint import fitted, paint
from sitegen.pictures.sketch.painter import STAMPS
from sitegen.pictures.sketch.press import kinds
from sitegen.pictures.sketch.spots import Spot
from tests.pictures.sketch.briefs import FORMS, SMALL, brief, stem


def levels(image: Image.Image) -> "np.typing.NDArray[np.uint8]":
    return np.asarray(image)


@pytest.mark.parametrize("form", FORMS)
def test_the_same_recipe_gives_the_same_bytes(form: Form) -> None:
    def painted() -> str:
        out = BytesIO()
        paint(brief(form), SMALL).save(out, "WEBP", quality=80)
        return hashlib.sha256(out.getvalue()).hexdigest()

    assert painted() == painted()


def test_another_colour_gives_another_picture() -> None:
    one, two = (paint(brief("low", stem("peony", 2, colour)), SMALL) for colour in ("#f8d3c6", "#f8d3c8"))
    assert one.tobytes() != two.tobytes()


def test_around_the_piece_lies_paper() -> None:
    picture = levels(paint(brief(), (240, 300)))
    for corner in (picture[:12, :12], picture[-12:, -12:]):
        assert corner.mean() > 238
        assert corner.min() > 205


def test_every_head_can_be_seen() -> None:
    """Where a head's middle lies, the page is not paper: seven dark blooms on white."""
    asked = brief("hand-tied", stem("ranunculus", 7, "#64122a"))
    layout, size = arranged(asked), (240, 300)
    picture = levels(paint(asked, size))
    scale, origin = fitted(asked, layout.page, size)
    for spot in layout.items:
        if isinstance(spot, Spot) and spot.stem == 0:
            x, y = (int(origin[i] + scale * spot.at[i]) for i in (0, 1))
            assert picture[y - 2 : y + 3, x - 2 : x + 3].mean() < 130


def test_a_set_is_painted_at_one_scale() -> None:
    """A small piece beside a large one is smaller on its paper than alone."""
    small, large = brief("hand-tied", stem("peony", 1)), brief("hand-tied", stem("peony", 30))

    def painted(picture: Image.Image) -> int:
        return int((levels(picture).min(axis=2) < 200).sum())

    assert painted(paint(small, SMALL, (large,))) < 0.6 * painted(paint(small, SMALL))
    assert paint(large, SMALL, (small,)).tobytes() == paint(large, SMALL).tobytes()


@pytest.mark.parametrize("colour", ["#000000", "#ffffff", "#ff00ff", "#00ff00"])
def test_colours_at_the_bounds_are_painted(colour: str) -> None:
    picture = levels(paint(brief("low", stem("peony", 1, colour), stem("fern", 1, colour, "foliage")), SMALL))
    assert picture.std() > 3


@pytest.mark.parametrize("kind", sorted(HABITS))
def test_each_kind_has_its_stamps(kind: str) -> None:
    found = kinds()[kind]
    assert found.group == HABITS[kind].group
    assert all((STAMPS / one.file).is_file() for one in found.stamps)
    assert len({one.file for one in found.stamps}) == len(found.stamps) >= 2


def test_no_stamp_lies_unused() -> None:
    used = {one.file for kind in kinds().values() for one in kind.stamps}
    assert used == {path.name for path in STAMPS.glob("*.webp")}
