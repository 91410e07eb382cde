"""The stamps: flowers and leaves as light, place of colour and cover, which each stem colours anew."""

import json
from dataclasses import dataclass
from functools import cache, lru_cache
from math import ceil, cos, floor, radians, sin
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray
from PIL import Image

from sitegen.pictures.sketch.painter import STAMPS

Field: TypeAlias = NDArray[np.float32]
"""Values by row and column; with a first axis of three, by channel, row and column."""

# The green channel: 0 takes none of the stem's colour, from here (the heart) to 255 (the rim) it does.
_HEART = 56
_SOLID = 128
_LEVEL = np.float32(1 / 255)
_MIDDLE = 0.60
# Room around a print for its shadow and its contour.
_MARGIN = 7


@dataclass(frozen=True, slots=True)
class Stamp:
    """One view of one kind. *size* pixels stand for the stem's inches; *anchor* is where its stem leaves."""

    file: str
    view: str
    anchor: tuple[float, float]
    box: tuple[int, int]
    size: float


@dataclass(frozen=True, slots=True)
class Kind:
    """A kind of flower or leaf. *fixed* is the colour of what no stem colours: an eye, anthers."""

    group: str
    fixed: str
    stamps: tuple[Stamp, ...]

    def of_view(self, view: str) -> tuple[Stamp, ...]:
        return tuple(one for one in self.stamps if one.view == view) or self.stamps


@dataclass(frozen=True, slots=True)
class Pose:
    """How a stamp is put down: its size in pixels, turned clockwise by so many degrees, and mirrored or not.

    Its centre comes to lie at *at*, or with *by_anchor* the end of its stem.
    """

    at: tuple[float, float]
    pixels: float
    turn: float
    mirrored: bool
    by_anchor: bool


@dataclass(frozen=True, slots=True)
class Print:
    """A stamp as put down: its *cover* by row and column, from a corner on, and what lies under it.

    *light*, *tint*, *place*, *green* and *solid* (the cover once more) hold one value for each of the pixels
    *under* the cover, from 0 to 1.
    """

    left: int
    top: int
    cover: Field
    under: NDArray[np.intp]
    solid: Field
    light: Field
    tint: Field
    place: Field
    green: Field

    def spread(self, body: Field) -> Field:
        """Put values by channel and pixel under the cover back into rows and columns."""
        whole = np.zeros((3, self.cover.size), dtype=np.float32)
        whole[:, self.under] = body
        return whole.reshape(3, *self.cover.shape)


@cache
def kinds() -> dict[str, Kind]:
    written = json.loads((STAMPS / "stamps.json").read_text("utf-8"))["kinds"]
    return {name: _kind(one) for name, one in written.items()}


def _kind(one: dict[str, object]) -> Kind:
    stamps = one["stamps"]
    if not isinstance(stamps, list):
        raise TypeError("stamps.json lists the stamps of each kind")
    return Kind(str(one["group"]), str(one["fixed"] or ""), tuple(map(_stamp, stamps)))


def _stamp(one: dict[str, object]) -> Stamp:
    match one:
        case {
            "file": str(file),
            "view": str(view),
            "anchor": [float(x), float(y)],
            "size": [int(w), int(h)],
            "size_px": float(size),
        }:
            return Stamp(file, view, (x, y), (w, h), size)
        case _:
            raise TypeError(f"a stamp is described otherwise: {one}")


def printed(stamp: Stamp, pose: Pose, page: tuple[int, int]) -> Print | None:
    """Print the part of *stamp* that lies on the *page* (width and height); None where none of it does."""
    image, shrunk = _at_most_twice(stamp.file, pose.pixels / stamp.size)
    scale = pose.pixels / stamp.size * shrunk
    pivot = stamp.anchor if pose.by_anchor else (stamp.box[0] / 2, stamp.box[1] / 2)
    pivot = (pivot[0] / shrunk, pivot[1] / shrunk)
    flip = -1.0 if pose.mirrored else 1.0
    c, s = cos(radians(pose.turn)), sin(radians(pose.turn))
    corners = [(scale * flip * (x - pivot[0]), scale * (y - pivot[1])) for x, y in _corners(image.size)]
    xs, ys = [c * x - s * y for x, y in corners], [s * x + c * y for x, y in corners]
    left, top = max(0, floor(pose.at[0] + min(xs)) - _MARGIN), max(0, floor(pose.at[1] + min(ys)) - _MARGIN)
    right = min(page[0], ceil(pose.at[0] + max(xs)) + _MARGIN)
    bottom = min(page[1], ceil(pose.at[1] + max(ys)) + _MARGIN)
    if left >= right or top >= bottom:
        return None
    # From a pixel of the print back to one of the stamp.
    dx, dy = left - pose.at[0], top - pose.at[1]
    a, b, d, e = flip * c / scale, flip * s / scale, -s / scale, c / scale
    back = (a, b, a * dx + b * dy + pivot[0], d, e, d * dx + e * dy + pivot[1])
    size = (right - left, bottom - top)
    how = Image.Resampling.BILINEAR if scale < 1 else Image.Resampling.BICUBIC
    return _read(image.transform(size, Image.Transform.AFFINE, back, how), left, top)


def _corners(size: tuple[int, int]) -> tuple[tuple[int, int], ...]:
    return (0, 0), (0, size[1]), (size[0], 0), size


def _read(turned: Image.Image, left: int, top: int) -> Print:
    bands = np.asarray(turned)
    cover = bands[..., 3].astype(np.float32) * _LEVEL
    under = np.flatnonzero(bands[..., 3])
    light, coded, green, solid = bands.reshape(-1, 4)[under].T.astype(np.float32) * _LEVEL
    coded *= 255
    return Print(
        left=left,
        top=top,
        cover=cover,
        under=under,
        solid=solid,
        light=light,
        tint=np.minimum(1, coded / _HEART),
        place=np.clip((coded - _HEART) / (255 - _HEART), 0, 1),
        green=green,
    )


@lru_cache(maxsize=256)
def _reduced(file: str, by: int) -> Image.Image:
    if by > 1:
        return _reduced(file, 1).reduce(by)
    with Image.open(STAMPS / file) as image:
        return _evened(image.convert("RGBA"))


def _evened(image: Image.Image) -> Image.Image:
    """Bring the middle of its lights to the same level in every stamp: one kind is no darker than another."""
    light, *others, cover = image.split()
    levels = np.asarray(light)[np.asarray(cover) > _SOLID]
    bend = np.log(_MIDDLE) / np.log(min(0.9, max(0.2, float(np.median(levels)) / 255)))
    light = light.point([round(255 * (level / 255) ** float(bend)) for level in range(256)])
    return Image.merge("RGBA", (light, *others, cover))


def _at_most_twice(file: str, scale: float) -> tuple[Image.Image, int]:
    """Shrink a stamp by a whole step first, so that no step from pixel to pixel leaves any out."""
    by = 1
    while scale * by <= 0.5 and by < 32:
        by *= 2
    return _reduced(file, by), by
