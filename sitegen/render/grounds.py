"""Grounds for a theme to set text on, mixed from the event's own palette, with ink that stands out on each.

Worked in OKLCH, where equal steps look equal: Björn Ottosson, "A perceptual color space for image
processing" (2020), whose two matrices stand below. Colours are no money: floats are allowed.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import lru_cache
from math import atan2, cos, hypot, sin

from sitegen.check.colour import contrast

GROUNDS = 3
_DARK_INK, _DARK_SOFT = "#16110e", "#4d443d"
_LIGHT_INK, _LIGHT_SOFT = "#fbf1e6", "#dcc9bf"
_LEGIBLE = 4.5  # WCAG 2.2, contrast of text
# Lightness up to which a colour stays deep: lightened, wine would turn into bubble-gum pink.
_DEEP = 0.45
_SPARE = ("#e9cfc0", "#cbd8cb", "#ead9b8")  # where palette and recipes together give too few

_TO_LMS = (
    (0.4122214708, 0.5363325363, 0.0514459929),
    (0.2119034982, 0.6806995451, 0.1073969566),
    (0.0883024619, 0.2817188376, 0.6299787005),
)
_TO_LAB = (
    (0.2104542553, 0.7936177850, -0.0040720468),
    (1.9779984951, -2.4285922050, 0.4505937099),
    (0.0259040371, 0.7827717662, -0.8086757660),
)
_FROM_LAB = (
    (1.0, 0.3963377774, 0.2158037573),
    (1.0, -0.1055613458, -0.0638541728),
    (1.0, -0.0894841775, -1.2914855480),
)
_FROM_LMS = (
    (4.0767416621, -3.3077115913, 0.2309699292),
    (-1.2684380046, 2.6097574011, -0.3413193965),
    (-0.0041960863, -0.7034186147, 1.7076147010),
)


@dataclass(frozen=True, slots=True)
class Ground:
    """A colour to set text on, as `#rrggbb`, and the inks for text and for its softer lines on it."""

    colour: str
    ink: str
    soft: str


@dataclass(frozen=True, slots=True)
class DayAndNight:
    """The same ground where a reader's screen is light, and where it is dark."""

    day: Ground
    night: Ground


def grounds(palette: Sequence[str], drawn: Iterable[str]) -> tuple[DayAndNight, ...]:
    """Give three grounds: of *palette*, then of the colours *drawn* from the recipes, the largest first."""
    wanted = dict.fromkeys(colour.lower() for colour in (*palette, *drawn, *_SPARE))
    return tuple(_mixed(colour) for colour in list(wanted)[:GROUNDS])


@lru_cache(maxsize=512)
def _mixed(colour: str) -> DayAndNight:
    lightness, chroma, hue = oklch(colour)
    if lightness <= _DEEP:
        day = colour_of(min(max(lightness, 0.28), 0.38), chroma, hue)
    else:
        most = 0.09 if lightness >= 0.83 else 0.07
        day = colour_of(min(max(lightness, 0.83), 0.93), min(chroma, most), hue)
    return DayAndNight(_inked(day), _inked(colour_of(0.34, min(chroma, 0.08), hue)))


def _inked(colour: str) -> Ground:
    ink, soft = ink_on(colour)
    return Ground(colour, ink, soft if contrast(soft, colour) >= _LEGIBLE else ink)


def ink_on(colour: str) -> tuple[str, str]:
    """Give the ink that stands out most on *colour*, and the softer one that goes with it."""
    pairs = ((_DARK_INK, _DARK_SOFT), (_LIGHT_INK, _LIGHT_SOFT))
    return max(pairs, key=lambda pair: contrast(pair[0], colour))


def is_deep(colour: str) -> bool:
    """Tell whether white stands out more on *colour* than black does; the better one always has 4.5 to 1."""
    return contrast("#ffffff", colour) > contrast("#000000", colour)


def oklch(colour: str) -> tuple[float, float, float]:
    """Give lightness (0 to 1), chroma and hue (radians) in OKLCH of an sRGB colour written `#rrggbb`."""
    channels = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels]
    cones = [part ** (1 / 3) for part in _times(_TO_LMS, linear)]
    lightness, a, b = _times(_TO_LAB, cones)
    return lightness, hypot(a, b), atan2(b, a)


def colour_of(lightness: float, chroma: float, hue: float) -> str:
    """Write a colour of OKLCH as `#rrggbb`; where sRGB cannot show it, with as much chroma as it can."""
    while True:
        lab = (lightness, chroma * cos(hue), chroma * sin(hue))
        linear = _times(_FROM_LMS, [part**3 for part in _times(_FROM_LAB, lab)])
        if chroma <= 0 or all(-0.0005 <= part <= 1.0005 for part in linear):
            return "#" + "".join(f"{_channel(part):02x}" for part in linear)
        chroma -= 0.002


def _channel(linear: float) -> int:
    clipped = min(max(linear, 0.0), 1.0)
    encoded = clipped * 12.92 if clipped <= 0.0031308 else 1.055 * clipped ** (1 / 2.4) - 0.055
    return round(255 * encoded)


def _times(matrix: Sequence[Sequence[float]], vector: Sequence[float]) -> list[float]:
    return [sum(m * v for m, v in zip(row, vector, strict=True)) for row in matrix]
