"""Colours against published values and against a library that is not ours."""

from itertools import pairwise

import pytest
from coloraide import Color

from sitegen.check.colour import Lab, contrast, difference, lab, lab_difference

# G. Sharma, W. Wu, E. N. Dalal: The CIEDE2000 Color-Difference Formula: Implementation Notes, Supplementary
# Test Data, and Mathematical Observations. Color Research and Application 30(1), 2005, table 1; all 34 pairs,
# as carried in the tests of several public colour libraries, where the digits were read.
SHARMA: list[tuple[Lab, Lab, float]] = [
    ((50.0000, 2.6772, -79.7751), (50.0000, 0.0000, -82.7485), 2.0425),
    ((50.0000, 3.1571, -77.2803), (50.0000, 0.0000, -82.7485), 2.8615),
    ((50.0000, 2.8361, -74.0200), (50.0000, 0.0000, -82.7485), 3.4412),
    ((50.0000, -1.3802, -84.2814), (50.0000, 0.0000, -82.7485), 1.0000),
    ((50.0000, -1.1848, -84.8006), (50.0000, 0.0000, -82.7485), 1.0000),
    ((50.0000, -0.9009, -85.5211), (50.0000, 0.0000, -82.7485), 1.0000),
    ((50.0000, 0.0000, 0.0000), (50.0000, -1.0000, 2.0000), 2.3669),
    ((50.0000, -1.0000, 2.0000), (50.0000, 0.0000, 0.0000), 2.3669),
    ((50.0000, 2.4900, -0.0010), (50.0000, -2.4900, 0.0009), 7.1792),
    ((50.0000, 2.4900, -0.0010), (50.0000, -2.4900, 0.0010), 7.1792),
    ((50.0000, 2.4900, -0.0010), (50.0000, -2.4900, 0.0011), 7.2195),
    ((50.0000, 2.4900, -0.0010), (50.0000, -2.4900, 0.0012), 7.2195),
    ((50.0000, -0.0010, 2.4900), (50.0000, 0.0009, -2.4900), 4.8045),
    ((50.0000, -0.0010, 2.4900), (50.0000, 0.0010, -2.4900), 4.8045),
    ((50.0000, -0.0010, 2.4900), (50.0000, 0.0011, -2.4900), 4.7461),
    ((50.0000, 2.5000, 0.0000), (50.0000, 0.0000, -2.5000), 4.3065),
    ((50.0000, 2.5000, 0.0000), (73.0000, 25.0000, -18.0000), 27.1492),
    ((50.0000, 2.5000, 0.0000), (61.0000, -5.0000, 29.0000), 22.8977),
    ((50.0000, 2.5000, 0.0000), (56.0000, -27.0000, -3.0000), 31.9030),
    ((50.0000, 2.5000, 0.0000), (58.0000, 24.0000, 15.0000), 19.4535),
    ((50.0000, 2.5000, 0.0000), (50.0000, 3.1736, 0.5854), 1.0000),
    ((50.0000, 2.5000, 0.0000), (50.0000, 3.2972, 0.0000), 1.0000),
    ((50.0000, 2.5000, 0.0000), (50.0000, 1.8634, 0.5757), 1.0000),
    ((50.0000, 2.5000, 0.0000), (50.0000, 3.2592, 0.3350), 1.0000),
    ((60.2574, -34.0099, 36.2677), (60.4626, -34.1751, 39.4387), 1.2644),
    ((63.0109, -31.0961, -5.8663), (62.8187, -29.7946, -4.0864), 1.2630),
    ((61.2901, 3.7196, -5.3901), (61.4292, 2.2480, -4.9620), 1.8731),
    ((35.0831, -44.1164, 3.7933), (35.0232, -40.0716, 1.5901), 1.8645),
    ((22.7233, 20.0904, -46.6940), (23.0331, 14.9730, -42.5619), 2.0373),
    ((36.4612, 47.8580, 18.3852), (36.2715, 50.5065, 21.2231), 1.4146),
    ((90.8027, -2.0831, 1.4410), (91.1528, -1.6435, 0.0447), 1.4441),
    ((90.9257, -0.5406, -0.9208), (88.6381, -0.8985, -0.7239), 1.5381),
    ((6.7747, -0.2908, -2.4247), (5.8714, -0.0985, -2.2286), 0.6377),
    ((2.0776, 0.0795, -1.1350), (0.9033, -0.0636, -0.5514), 0.9082),
]


@pytest.mark.parametrize(("one", "other", "expected"), SHARMA)
def test_the_published_pairs(one: Lab, other: Lab, expected: float) -> None:
    assert lab_difference(one, other) == pytest.approx(expected, abs=5e-5)
    assert lab_difference(other, one) == pytest.approx(expected, abs=5e-5)


# 16 steps through the corners and edges of sRGB, and colours of flowers.
COLOURS = [f"#{r}{g}{b}" for r in ("00", "5c", "ff") for g in ("03", "8d", "ff") for b in ("00", "7a", "fe")]
COLOURS += ["#ffffff", "#000000", "#777777", "#e6c3b8", "#f5efe6", "#7d8b6a", "#eab08c", "#6e1f3a", "#0000ff"]


@pytest.mark.parametrize(("one", "other"), [*pairwise(COLOURS), *pairwise(COLOURS[::5])])
def test_a_reference_library_agrees(one: str, other: str) -> None:
    theirs = Color(one)
    assert difference(one, other) == pytest.approx(theirs.delta_e(other, method="2000"), abs=1e-6)
    assert lab(one) == pytest.approx(tuple(theirs.convert("lab-d65").coords()), abs=1e-6)
    # The library takes luminance from its own matrix, with more digits than the four that WCAG prints.
    assert contrast(one, other) == pytest.approx(theirs.contrast(other, method="wcag21"), rel=2e-4)


# WCAG 2.2, "contrast ratio" and "relative luminance", https://www.w3.org/TR/WCAG22/#dfn-contrast-ratio. The
# first is the ratio of the definition's own ends; the others were computed from its formula. That
# #767676 is the lightest grey to pass 4.5 on white and #949494 the lightest to pass 3 is widely published.
@pytest.mark.parametrize(
    ("text", "ground", "ratio"),
    [
        ("#000000", "#ffffff", 21.0),
        ("#ffffff", "#ffffff", 1.0),
        ("#767676", "#ffffff", 4.5422),
        ("#777777", "#ffffff", 4.4781),
        ("#949494", "#ffffff", 3.0335),
        ("#959595", "#ffffff", 2.9953),
        ("#595959", "#ffffff", 7.0047),
        ("#767676", "#f5f5f5", 4.1663),
        ("#6b6b6b", "#faf7f2", 4.9869),
        ("#2f4f3e", "#faf7f2", 8.5114),
        ("#7b2d3b", "#faf7f2", 8.6163),
        ("#1f3a5f", "#f5f0e8", 10.1228),
        ("#b76e79", "#ffffff", 3.8044),
        ("#9c5560", "#ffffff", 5.4097),
        ("#8a9a5b", "#ffffff", 3.0639),
        ("#c9a0a0", "#ffffff", 2.3283),
    ],
)
def test_contrast_of_wcag(text: str, ground: str, ratio: float) -> None:
    assert contrast(text, ground) == pytest.approx(ratio, abs=5e-5)
    assert contrast(ground, text) == contrast(text, ground)
