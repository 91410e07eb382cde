"""Grounds from a palette: as light or deep as they should be, in the same hue, with text that stands out."""

import pytest
from coloraide import Color
from hypothesis import given
from hypothesis import strategies as st

from sitegen.check.colour import contrast
from sitegen.render.grounds import colour_of, grounds, is_deep, oklch

COLOURS = st.integers(0, 0xFFFFFF).map(lambda n: f"#{n:06x}")


@given(COLOURS)
def test_oklch_is_that_of_the_reference_library(colour: str) -> None:
    """Source: coloraide, an independent implementation of CSS Color 4."""
    lightness, chroma, hue = oklch(colour)
    reference = Color(colour).convert("oklch")
    assert lightness == pytest.approx(reference["lightness"], abs=1e-4)
    assert chroma == pytest.approx(reference["chroma"], abs=1e-4)
    assert Color(colour_of(lightness, chroma, hue)).delta_e(colour, method="2000") < 0.6


@given(st.lists(COLOURS, max_size=20), st.lists(COLOURS, max_size=8))
def test_text_stands_out_on_every_ground(palette: list[str], drawn: list[str]) -> None:
    """Source: WCAG 2.2, 1.4.3: 4.5 to 1 for text."""
    for ground in grounds(palette, drawn):
        for one in (ground.day, ground.night):
            assert contrast(one.ink, one.colour) >= 4.5
            assert contrast(one.soft, one.colour) >= 4.5


@given(COLOURS)
def test_black_or_white_is_legible_on_every_colour(colour: str) -> None:
    """Source: WCAG 2.2, 1.4.3."""
    assert contrast("#ffffff" if is_deep(colour) else "#000000", colour) >= 4.5


def test_there_are_three_whatever_the_palette_holds() -> None:
    few = grounds(["#e6c3b8"], ["#e6c3b8", "#7d8b6a"])
    assert len({ground.day.colour for ground in few}) == len(few) == 3
    assert len(grounds([], [])) == len(grounds(["#101010"] * 20, [])) == 3


def test_wine_stays_deep_and_blush_stays_light() -> None:
    wine, blush, _ = grounds(["#6b1a2e", "#f3c9d0"], [])
    assert oklch(wine.day.colour)[0] <= 0.385
    assert wine.day.ink == "#fbf1e6"
    assert oklch(blush.day.colour)[0] >= 0.825
    assert blush.day.ink == "#16110e"
    assert oklch(blush.night.colour)[0] <= 0.345
