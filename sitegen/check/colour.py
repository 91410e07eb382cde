"""How different two colours look (CIEDE2000), and how well text stands out on a ground (WCAG 2.2).

Written out here because a colour library takes longer to start than a whole build; the tests hold it
to the published pairs and to such a library. Colours are no money: floats are allowed.
"""

from functools import lru_cache
from math import atan2, cos, degrees, exp, hypot, radians, sin, sqrt
from typing import TypeAlias

Lab: TypeAlias = tuple[float, float, float]

# Linear sRGB to CIE XYZ with the white of D65 (IEC 61966-2-1, as CSS Color 4 prints it in whole numbers).
_TO_XYZ = (
    (506752 / 1228815, 87881 / 245763, 12673 / 70218),
    (87098 / 409605, 175762 / 245763, 12673 / 175545),
    (7918 / 409605, 87881 / 737289, 1001167 / 1053270),
)
_WHITE = tuple(sum(row) for row in _TO_XYZ)


def difference(one: str, other: str) -> float:
    """Give the CIEDE2000 difference of two sRGB colours written as `#rrggbb`: 0 is alike, 1 just visible."""
    return lab_difference(lab(one), lab(other))


def contrast(one: str, other: str) -> float:
    """Give the contrast ratio of WCAG 2.2, from 1 to 21, of two colours written as `#rrggbb`."""
    dark, light = sorted((_luminance(one), _luminance(other)))
    return (light + 0.05) / (dark + 0.05)


def _luminance(colour: str) -> float:
    red, green, blue = _linear(colour)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def _linear(colour: str) -> tuple[float, ...]:
    channels = (int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5))
    return tuple(c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels)


@lru_cache(maxsize=1 << 12)
def lab(colour: str) -> Lab:
    """Give an sRGB colour written as `#rrggbb` in CIELAB, with the white of D65."""
    rgb = _linear(colour)
    xyz = (sum(m * c for m, c in zip(row, rgb, strict=True)) for row in _TO_XYZ)
    x, y, z = (_root(part / white) for part, white in zip(xyz, _WHITE, strict=True))
    return 116 * y - 16, 500 * (x - y), 200 * (y - z)


def _root(t: float) -> float:
    """The compressed cube root of CIELAB: straight near black (CIE 15, with the exact fractions)."""
    return t ** (1 / 3) if t > 216 / 24389 else (24389 / 27 * t + 16) / 116


def lab_difference(one: Lab, other: Lab) -> float:
    """Give the CIEDE2000 difference of two colours in CIELAB.

    Sharma, Wu, Dalal: "The CIEDE2000 Color-Difference Formula: Implementation
    Notes, Supplementary Test Data, and Mathematical Observations", Color
    Research and Application 30(1), 2005. All weights are 1.
    """
    stretch = 1.5 - 0.5 * _saturation((hypot(*one[1:]) + hypot(*other[1:])) / 2)
    chroma, hue = _polar(one, stretch)
    other_chroma, other_hue = _polar(other, stretch)
    turn = _turn(hue, other_hue)  # of a grey it means nothing, and is multiplied by its chroma of 0
    mean_hue = hue + turn / 2
    mean_light, mean_chroma = (one[0] + other[0]) / 2, (chroma + other_chroma) / 2
    light = (other[0] - one[0]) / _light_weight(mean_light)
    more = (other_chroma - chroma) / (1 + 0.045 * mean_chroma)
    turned = 2 * sqrt(chroma * other_chroma) * sin(radians(turn / 2))
    turned /= 1 + 0.015 * mean_chroma * _hue_weight(mean_hue)
    twist = 60 * exp(-(((mean_hue % 360 - 275) / 25) ** 2))
    mixed = -2 * _saturation(mean_chroma) * sin(radians(twist)) * more * turned
    return sqrt(light**2 + more**2 + turned**2 + mixed)


def _saturation(chroma: float) -> float:
    return sqrt(chroma**7 / (chroma**7 + 25**7))


def _polar(colour: Lab, stretch: float) -> tuple[float, float]:
    a, b = colour[1] * stretch, colour[2]
    return hypot(a, b), degrees(atan2(b, a)) % 360


def _turn(hue: float, other: float) -> float:
    """The shorter way round from one hue to the other; half a turn counts as it is written."""
    step = other - hue
    return step - 360 if step > 180 else step + 360 if step < -180 else step


def _light_weight(light: float) -> float:
    return 1 + 0.015 * (light - 50) ** 2 / sqrt(20 + (light - 50) ** 2)


def _hue_weight(hue: float) -> float:
    waves = ((-0.17, 1, -30), (0.24, 2, 0), (0.32, 3, 6), (-0.20, 4, -63))
    return 1 + sum(size * cos(radians(times * hue + shift)) for size, times, shift in waves)
