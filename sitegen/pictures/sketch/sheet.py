"""The sheet of paper: what is laid on it lies over what was there, and washes add up as densities."""

from dataclasses import dataclass

import numpy as np
from PIL import Image, ImageFilter

from sitegen.pictures.sketch.chance import Chance
from sitegen.pictures.sketch.press import Field

_LINE = np.array((0.72, 0.78, 0.82), dtype=np.float32).reshape(3, 1, 1)
_COOL = np.array((0.90, 0.92, 0.74), dtype=np.float32).reshape(3, 1, 1)


@dataclass(slots=True)
class Sheet:
    """Densities by channel and pixel, how much of each pixel is painted, and how wet paint clouds on it."""

    density: Field
    painted: Field
    clouds: Field

    @property
    def size(self) -> tuple[int, int]:
        return self.painted.shape[1], self.painted.shape[0]


@dataclass(frozen=True, slots=True)
class Laying:
    """How something is laid: its shadow on what lies below, a dry line around it, a pencil's contour."""

    shadow: float = 0.0
    gap: float = 0.0
    line: float = 0.0


def blank(size: tuple[int, int], chance: Chance) -> Sheet:
    width, height = size
    density = np.zeros((3, height, width), dtype=np.float32)
    return Sheet(density, np.zeros((height, width), dtype=np.float32), clouds(size, chance))


def clouds(size: tuple[int, int], chance: Chance, grains: tuple[int, ...] = (200, 80, 30)) -> Field:
    """Make the slow unevenness of wet pigment: values from 0 to 1 around a half."""
    width, height = size
    total = np.zeros((height, width), dtype=np.float32)
    for weight, grain in zip((0.42, 0.33, 0.25), grains, strict=True):
        small = chance.random_sample((height // grain + 3, width // grain + 3)).astype(np.float32)
        image = Image.fromarray(small).resize((width, height), Image.Resampling.BICUBIC)
        total += np.float32(weight) * np.asarray(image)
    return total


def blurred(values: Field, radius: float) -> Field:
    """Blur values from 0 to 1."""
    image = Image.fromarray((np.clip(values, 0, 1) * 255 + 0.5).astype(np.uint8))
    soft = np.asarray(image.filter(ImageFilter.BoxBlur(radius)))
    return soft.astype(np.float32) * np.float32(1 / 255)


def lay(sheet: Sheet, body: Field, cover: Field, corner: tuple[int, int], how: Laying) -> None:
    """Lay *body* (densities) under *cover* on the sheet; all of it must lie on the sheet."""
    left, top = corner
    rows, columns = slice(top, top + cover.shape[0]), slice(left, left + cover.shape[1])
    below, painted = sheet.density[:, rows, columns], sheet.painted[rows, columns]
    if how.shadow:
        soft = _soft(cover)
        below *= 1 + 0.45 * how.shadow * soft
        below += _COOL * (0.11 * how.shadow * soft * painted)
    near = blurred(cover, 1.4)
    around = np.clip(2.4 * near - cover, 0, 1) * (1 - cover)
    below *= (1 - 0.995 * cover) * (1 - how.gap * around)
    below += body * (cover * (2.1 - 1.1 * near))
    if how.line:
        below += _LINE * (how.line * around * _broken(sheet.clouds[rows, columns]))
    np.maximum(painted, cover, out=painted)


def _soft(cover: Field) -> Field:
    """The shadow on what lies below, just under the edge; bare paper keeps clean."""
    size = min(cover.shape) * 0.045 + 1
    small = Image.fromarray((cover * 255).astype(np.uint8)).reduce(3)
    small = small.filter(ImageFilter.BoxBlur(size / 2)).resize(cover.shape[::-1], Image.Resampling.BILINEAR)
    soft = np.asarray(small, dtype=np.float32) * np.float32(1 / 255)
    return np.roll(soft, (round(size * 0.9), round(size * 0.35)), (0, 1))


def _broken(values: Field) -> Field:
    """Lift the pencil here and there."""
    return np.clip(np.abs(np.sin(values * 34)) * 1.7 - 0.3, 0, 1)
