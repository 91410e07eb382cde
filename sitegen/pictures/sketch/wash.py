"""What a brush leaves before the first flower: loose washes of the recipe's colours."""

from collections.abc import Sequence
from math import cos, sin, tau

import numpy as np
from PIL import Image

from sitegen.pictures.sketch.chance import Chance, part
from sitegen.pictures.sketch.pigment import pigment
from sitegen.pictures.sketch.press import Field
from sitegen.pictures.sketch.sheet import Sheet, clouds
from sitegen.pictures.sketch.spots import Point

_GREEN = "#c8d2b8"
_WASHES = 3
# Washes have no fine detail: they are made at a fourth of the size.
_STEP = 4
_SHARP = 7


def loose_wash(sheet: Sheet, middle: Point, reach: float, colours: Sequence[str], chance: Chance) -> None:
    """Lay pale washes around the piece, the first green, each with an edge where it dried. In pixels."""
    some = list(dict.fromkeys(colours)) or [_GREEN]
    for n in range(_WASHES):
        one = pigment(some[int(chance.randint(len(some)))] if n else _GREEN)
        turn = tau * part(chance)
        at = (middle[0] + 0.30 * reach * cos(turn), middle[1] + 0.26 * reach * sin(turn))
        amount = _puddle(sheet.size, at, reach * (0.95 - 0.12 * n), chance)
        strength = min(0.14, 0.030 / max(0.12, float(one.density.mean())))
        sheet.density += one.density[..., None] * (np.float32(strength) * amount)


def _puddle(size: tuple[int, int], at: Point, radius: float, chance: Chance) -> Field:
    width, height = size
    down, across = np.mgrid[0 : height + _STEP : _STEP, 0 : width + _STEP : _STEP].astype(np.float32)
    far = np.hypot((across - at[0]) / 1.12, down - at[1]) / radius
    rough = clouds((far.shape[1], far.shape[0]), chance, (46, 20, 8)) - 0.5
    inside = (0.86 + rough - far) * _SHARP
    edge = np.clip(1 - np.abs(inside - 0.8), 0, 1) * np.clip(0.5 + 3 * rough, 0, 1)
    amount = np.clip(inside, 0, 1) * (0.55 + 0.45 * np.clip(far, 0, 1) + 0.8 * rough) + 0.5 * edge
    image = Image.fromarray(np.clip(amount, 0, 2).astype(np.float32))
    return np.asarray(image.resize(size, Image.Resampling.BICUBIC))
