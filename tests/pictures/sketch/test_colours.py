"""What is painted has the colour that the catalogue says.

Measured against coloraide (facelessuser.github.io/coloraide), an outside implementation of CIEDE2000
(ISO/CIE 11664-6:2014). There, about 2 is seen side by side, and about 5 is the next shade on a card.
"""

import numpy as np
import pytest
from coloraide import Color

from sitegen.pictures.sketch.paint import paint
from sitegen.pictures.sketch.pigment import PAPER, leafed, pigment, washed
from sitegen.pictures.sketch.press import Field, Pose, Print, kinds, printed
from tests.pictures.sketch.briefs import brief, stem

PALE = ("#fcf6ec", "#ffffff", "#f8d3c6", "#f6e0a2", "#d8e4b4")
DEEP = ("#64122a", "#2f4a37", "#ff0000", "#0000ff", "#101010", "#ec8468", "#8a5a66", "#3d6f3a", "#cda3a6")
ALL = ("garden-rose", "peony", "anemone", "dahlia", "hydrangea", "tulip", "delphinium", "berries", "ruscus")


def put_down(kind: str, pixels: int = 90) -> Print:
    pose = Pose((75.0, 75.0), pixels, 0.0, mirrored=False, by_anchor=False)
    shown = printed(kinds()[kind].stamps[0], pose, (150, 150))
    assert shown is not None
    return shown


def difference(kind: str, colour: str) -> float:
    """Between *colour* and the mean of what a stem of it is painted with, on paper."""
    shown, leaf = put_down(kind), kinds()[kind].group == "sprig"
    even = np.full(shown.light.shape, 0.5, dtype=np.float32)
    body: Field
    if leaf:
        body, where = leafed(shown, pigment(colour), even), shown.solid
    else:
        body = washed(shown, pigment(colour), even, kinds()[kind].fixed)
        where = shown.solid * shown.tint * (1 - shown.green)
    mean = (np.exp(-body) * where).sum(axis=1) / where.sum() * PAPER.ravel()
    return float(Color("srgb", [float(value) for value in mean]).delta_e(colour, method="2000"))


@pytest.mark.parametrize("kind", ALL)
def test_a_bloom_has_its_colour(kind: str) -> None:
    assert max(difference(kind, colour) for colour in DEEP) < 2.5
    assert max(difference(kind, colour) for colour in PALE) < 5


def test_a_whole_sketch_shows_its_colours_apart() -> None:
    """Each of two sketches is nearer to its own colour than to the other's, as finished on paper."""
    for own, other in (("#64122a", "#ec8468"), ("#ec8468", "#64122a"), ("#f6e0a2", "#cda3a6")):
        picture = paint(brief("hand-tied", stem("ranunculus", 7, own)), (160, 200))
        pixels = np.asarray(picture.resize((32, 40))).reshape(-1, 3) / 255
        found = [Color("srgb", [float(value) for value in pixel]) for pixel in pixels]
        strongest = sorted(found, key=lambda seen: -seen.delta_e("#fbf9f4", method="2000"))[:40]
        near = [min(seen.delta_e(colour, method="2000") for seen in strongest) for colour in (own, other)]
        assert near[0] < near[1]
