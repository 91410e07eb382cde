"""From densities to a picture: a hand wobbles, pigment settles, the paper shows."""

from functools import lru_cache

import numpy as np
from PIL import Image, ImageFilter

from sitegen.pictures.sketch.chance import Chance
from sitegen.pictures.sketch.pigment import PAPER
from sitegen.pictures.sketch.press import Field
from sitegen.pictures.sketch.sheet import Sheet

_PENCIL = np.array((0.70, 0.76, 0.80), dtype=np.float32).reshape(3, 1, 1)
_CELL = 48


def finished(sheet: Sheet, chance: Chance) -> Image.Image:
    """Make the picture; the sheet is used up."""
    light = np.exp(-np.clip(sheet.density, 0, 6))
    image = _wobbled(_image(light), chance)
    values = _values(image)
    line = _pencil(image) * sheet.painted
    soft = _values(
        image.reduce(4).filter(ImageFilter.GaussianBlur(5)).resize(image.size, Image.Resampling.BILINEAR)
    )
    values *= 1 - 0.05 * (1 - soft)
    wet = 1 - values
    wet *= 1 + 0.20 * (sheet.clouds - 0.5) + 0.06 * _grain(sheet.size)
    values = (1 - wet) * (1 - _PENCIL * line)
    values *= PAPER[..., None] * (1 + 0.0055 * _relief(sheet.size))
    return _image(values)


def _image(values: Field) -> Image.Image:
    levels = (np.clip(values, 0, 1) * 255 + 0.5).astype(np.uint8)
    return Image.fromarray(np.ascontiguousarray(levels.transpose(1, 2, 0)))


def _values(image: Image.Image) -> Field:
    planes = np.ascontiguousarray(np.asarray(image).transpose(2, 0, 1))
    return planes.astype(np.float32) * np.float32(1 / 255)


def _pencil(image: Image.Image) -> Field:
    """Draw along what is darker than its surroundings."""
    grey = image.convert("L")
    fine, wide = (np.asarray(grey.filter(ImageFilter.GaussianBlur(r)), dtype=np.float32) for r in (0.7, 2.6))
    return np.clip((wide - fine) / 255 * 1.9 - 0.02, 0, 0.30)


def _wobbled(image: Image.Image, chance: Chance) -> Image.Image:
    """A hand is no ruler: move everything by a pixel or so, neighbours alike."""
    columns, rows = -(-image.width // _CELL), -(-image.height // _CELL)
    off = chance.normal(0, 1.5, (rows + 1, columns + 1, 2))
    mesh = []
    for j in range(rows):
        for i in range(columns):
            right, bottom = min((i + 1) * _CELL, image.width), min((j + 1) * _CELL, image.height)
            corners = (
                (i * _CELL, j * _CELL, j, i),
                (i * _CELL, bottom, j + 1, i),
                (right, bottom, j + 1, i + 1),
                (right, j * _CELL, j, i + 1),
            )
            quad = tuple(
                v for x, y, row, column in corners for v in (x + off[row, column, 0], y + off[row, column, 1])
            )
            mesh.append(((i * _CELL, j * _CELL, right, bottom), quad))
    white = (255, 255, 255)
    return image.transform(image.size, Image.Transform.MESH, mesh, Image.Resampling.BILINEAR, fillcolor=white)


@lru_cache(maxsize=2)
def _grain(size: tuple[int, int]) -> Field:
    return np.random.RandomState(11).standard_normal(size[::-1]).astype(np.float32)


@lru_cache(maxsize=2)
def _relief(size: tuple[int, int]) -> Field:
    rough = np.random.RandomState(7).randint(0, 256, size[::-1]).astype(np.uint8)
    values = np.asarray(Image.fromarray(rough).filter(ImageFilter.GaussianBlur(1.2)), dtype=np.float32)
    slope = np.roll(values, (1, 1), (0, 1)) - values
    return np.asarray(slope / slope.std(), dtype=np.float32)
