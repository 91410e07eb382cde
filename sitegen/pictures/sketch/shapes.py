"""Plain forms in pigment: stalks, ribbon, ware."""

from typing import TypeAlias

import numpy as np
from PIL import Image, ImageDraw

from sitegen.pictures.sketch.pigment import GREY, PAPER, pigment
from sitegen.pictures.sketch.press import Field
from sitegen.pictures.sketch.sheet import Laying, Sheet, blurred, lay
from sitegen.pictures.sketch.spots import Point, Shape

_Box: TypeAlias = tuple[int, int, int, int]

# Outlines are drawn so many times larger, and shrunk, so that their edges are soft.
_FINE = 2
_THIN = frozenset({"glass", "water", "shade", "dusk"})
_SOFT = {"shade": (0.22, 0.10), "dusk": (0.85, 0.07)}
_LAYINGS = {
    "stalks": Laying(0.0, 0.2, 0.10),
    "band": Laying(0.5, 0.35, 0.14),
    "tail": Laying(0.5, 0.35, 0.12),
    "ware": Laying(0.0, 0.3, 0.2),
    "wood": Laying(0.2, 0.3, 0.15),
    "reed": Laying(0.0, 0.3, 0.2),
}


def shape(sheet: Sheet, one: Shape, scale: float, origin: Point) -> None:
    """Lay *one* on the sheet, *scale* pixels an inch; what lies off the page is left out."""
    outlines = [[(origin[0] + scale * x, origin[1] + scale * y) for x, y in line] for line in one.outlines]
    box = _box(outlines, sheet.size)
    if box is None:
        return
    cover, colours = _drawn(outlines, one.colours, box)
    if one.stuff in _THIN:
        _thin(sheet, one.stuff, pigment(one.colours[0]).density[..., None], cover, box)
        return
    if one.stuff == "stalks":
        body = np.maximum(-np.log(np.clip(colours, 0.03, 1) / PAPER[..., None]), 0)
    else:
        paint = pigment(one.colours[0])
        tone = _tone(one.stuff, cover.shape)
        clouds = sheet.clouds[box[1] : box[3], box[0] : box[2]]
        tone = tone * (1 + 0.5 * (clouds - 0.5))
        body = paint.density[..., None] * tone + GREY[..., None] * (0.10 * paint.pale * tone**2)
    lay(sheet, body.astype(np.float32), cover, box[:2], _LAYINGS[one.stuff])


def _thin(sheet: Sheet, stuff: str, density: Field, cover: Field, box: _Box) -> None:
    """Glass, water and shadow let through what lies below."""
    on = (slice(None), slice(box[1], box[3]), slice(box[0], box[2]))
    if stuff in _SOFT:
        strong, soft = _SOFT[stuff]
        sheet.density[on] += density * (strong * blurred(cover, max(4.0, soft * cover.shape[0])))
        return
    clouds = sheet.clouds[on[1:]]
    across = np.linspace(-1, 1, cover.shape[1], dtype=np.float32)[None, :]
    if stuff == "water":
        sheet.density[on] += density * (cover * (0.75 + 0.5 * (clouds - 0.5) + 0.25 * across**2))
        return
    edge = np.clip(cover - blurred(cover, 2.0), 0, 1)
    shine = np.clip(1 - np.abs(across + 0.55) * 9, 0, 1)
    sheet.density[on] *= 1 - 0.55 * (shine * cover)
    sheet.density[on] += density * (cover * (0.22 + 0.4 * across**4) + 2.6 * edge)
    np.maximum(sheet.painted[on[1:]], cover, out=sheet.painted[on[1:]])


def _box(outlines: list[list[Point]], page: tuple[int, int]) -> _Box | None:
    xs, ys = [x for line in outlines for x, _ in line], [y for line in outlines for _, y in line]
    left, top = max(0, int(min(xs)) - 12), max(0, int(min(ys)) - 12)
    right, bottom = min(page[0], int(max(xs)) + 13), min(page[1], int(max(ys)) + 13)
    return (left, top, right, bottom) if left < right and top < bottom else None


def _drawn(outlines: list[list[Point]], colours: tuple[str, ...], box: _Box) -> tuple[Field, Field]:
    """Fill the outlines one over the other, of several each set off by a light and a dark edge."""
    size = ((box[2] - box[0]) * _FINE, (box[3] - box[1]) * _FINE)
    cover, picture = Image.new("L", size), Image.new("RGB", size, colours[0])
    filled, coloured = ImageDraw.Draw(cover), ImageDraw.Draw(picture)
    for line, colour in zip(outlines, colours, strict=True):
        points = [((x - box[0]) * _FINE, (y - box[1]) * _FINE) for x, y in line]
        filled.polygon(points, fill=255)
        coloured.polygon(points, fill=colour)
        if len(outlines) > 1:
            half = len(points) // 2
            coloured.line(points[:half], fill="#e6ecd2", width=2)
            coloured.line(points[half:], fill="#5d7a45", width=2)
    return _levels(cover.reduce(_FINE)), _levels(picture.reduce(_FINE)).transpose(2, 0, 1)


def _levels(image: Image.Image) -> Field:
    return np.asarray(image, dtype=np.float32) * np.float32(1 / 255)


def _tone(stuff: str, size: tuple[int, int]) -> Field:
    """How much pigment lies where, across and down a form."""
    across = np.linspace(0, 1, size[1], dtype=np.float32)[None, :]
    down = np.linspace(0, 1, size[0], dtype=np.float32)[:, None]
    if stuff == "tail":
        tone = 0.62 + 0.65 * np.sin(down * 4.6 + across * 1.2) ** 2
    elif stuff == "band":
        tone = 0.5 + 3.8 * (across - 0.40) ** 2 + 1.2 * np.clip(np.sin(down * 34 + 2.2 * across) - 0.72, 0, 1)
    elif stuff == "reed":
        weave = np.sin(across * 90 + np.floor(down * 11) * np.pi) * np.sin(down * 34.5)
        tone = 0.7 + 1.2 * (across - 0.40) ** 2 + 0.35 * weave
    elif stuff == "wood":
        tone = 0.75 + 0.35 * np.sin(across * 3 + down * 2) ** 2
    else:
        rim = np.clip(1 - np.abs(down - 0.055) * 40, 0, 1)
        tone = 0.42 + 2.2 * (across - 0.33) ** 2 + 0.30 * down + 0.25 * rim
    return np.asarray(tone, dtype=np.float32)
