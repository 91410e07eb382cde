"""Colour as pigment: a wash over paper is a density, and densities add as washes do."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sitegen.pictures.sketch.press import Field, Print

# Light that comes back where no pigment lies.
PAPER = np.array((0.988, 0.981, 0.964), dtype=np.float32).reshape(3, 1)
# The density of the violet grey that gives white flowers their form.
GREY = np.array((0.86, 0.93, 0.74), dtype=np.float32).reshape(3, 1)
_GREEN = "#93ab76"
_LEAST = 0.012
_FEW = 7


@dataclass(frozen=True, slots=True)
class Pigment:
    """A colour to paint with: its *density* by channel (3 × 1), and how *pale* it is, 0 to 1."""

    density: NDArray[np.float32]
    pale: float


def pigment(colour: str, lighter: float = 0.0, warmer: float = 0.0) -> Pigment:
    """Mix the pigment of a colour `#rrggbb`, made lighter or darker, warmer or cooler by a few hundredths."""
    rgb = np.array([int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)], dtype=np.float32)
    rgb = rgb * (1 + lighter) + np.array((warmer, 0, -warmer), dtype=np.float32) * (1.15 - rgb.min())
    density = np.maximum(-np.log(np.clip(rgb, 0.03, 1).reshape(3, 1) / PAPER), _LEAST).astype(np.float32)
    return Pigment(density, float(np.exp(-1.5 * density.mean())))


def rise(low: float, high: float, values: Field) -> Field:
    """Rise smoothly from 0 at *low* to 1 at *high*; falls where *low* is the larger."""
    t = np.clip((values - low) / (high - low), 0, 1)
    return np.asarray(t * t * (3 - 2 * t), dtype=np.float32)


def washed(shown: Print, one: Pigment, clouds: Field, fixed: str) -> Field:
    """Lay the washes of one stem: its colour, its green parts, and what has a colour of its own."""
    tone = shown.light + 0.16 * (clouds - 0.5)
    petals = shown.tint * (1 - shown.green)
    body = _settled(_glazed(shown, one, tone, clouds), one, shown.solid * petals) * petals
    body += _glazed(shown, _stalk(), tone, clouds) * shown.green
    if fixed:
        own = (1 - shown.tint) * (1 - shown.green) * (1.4 - 0.7 * shown.light)
        body += pigment(fixed).density * own
    return np.asarray(body, dtype=np.float32)


def leafed(shown: Print, one: Pigment, clouds: Field) -> Field:
    """Lay the washes of a sprig: all of it has the stem's colour."""
    tone = shown.light + 0.20 * (clouds - 0.5)
    return _settled(_glazed(shown, one, tone, clouds, greyer=0.30), one, shown.solid)


def _stalk() -> Pigment:
    return pigment(_GREEN)


def _glazed(shown: Print, one: Pigment, tone: Field, clouds: Field, greyer: float = 0.10) -> Field:
    """Three washes, each over the darker parts of the one before, and a touch of grey in the creases."""
    base = 0.24 + 0.62 * (1 - one.pale) ** 2
    first = base + (1 - base) * rise(1.02, 0.66, tone)
    second, third = rise(0.60, 0.47, tone), rise(0.33, 0.22, tone)
    crease = (1 - shown.light) ** 2
    glaze = 0.54 * first + 0.27 * second + 0.26 * third + 0.20 * crease
    glaze *= (1 + 0.34 * (clouds - 0.5)) * (1.15 - 0.28 * shown.place)
    grey = one.pale * (0.035 + 0.035 * second + 0.06 * third + 0.14 * crease) + greyer * crease
    # The shadow of a cream flower is warm, that of a white one violet.
    own = one.density * (GREY.mean() / one.density.mean())
    return np.asarray(glaze * one.density + grey * (0.65 * GREY + 0.35 * own), dtype=np.float32)


def _settled(body: Field, one: Pigment, where: Field) -> Field:
    """Thin or thicken the washes so that the bloom as a whole has the stem's colour.

    Each channel's mean over the bloom is brought to the colour's by Newton's method, on every few pixels.
    """
    few = where[::_FEW]
    area = float(few.sum())
    if area < 1:
        return body
    sample = body[:, ::_FEW]
    wanted = np.exp(-one.density)
    factor = np.ones((3, 1), dtype=np.float32)
    for _ in range(3):
        seen = np.exp(-sample * factor) * few
        lack = seen.sum(axis=1, keepdims=True) / area - wanted
        slope = (sample * seen).sum(axis=1, keepdims=True) / area
        factor = np.clip(factor + lack / np.maximum(slope, 1e-4), 0.35, 2.2).astype(np.float32)
    # What makes a white flower white is that its greys keep their hue: all channels as one, over a flat wash
    # of what is lacking then.
    alike = one.pale**3
    factor = (alike * factor.mean() + (1 - alike) * factor).astype(np.float32)
    mean = (np.exp(-sample * factor) * few).sum(axis=1, keepdims=True) / area
    flat = np.clip(np.log(mean / wanted), 0, 0.2).astype(np.float32)
    return np.asarray(body * factor + flat, dtype=np.float32)
