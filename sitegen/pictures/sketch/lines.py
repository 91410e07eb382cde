"""Outlines: lines that bend, ribbon's ends, rounded corners."""

from collections.abc import Sequence
from itertools import pairwise
from math import hypot

from sitegen.pictures.sketch.spots import Outline, Point, Shape

_STEPS = 14


def curved(start: Point, through: Point, end: Point, wide: float, thinner: float = 1.0) -> Outline:
    """Outline a line *wide* at its start and *thinner* times that at its end, bent *through* a point."""
    bend = (2 * through[0] - (start[0] + end[0]) / 2, 2 * through[1] - (start[1] + end[1]) / 2)
    one, other = [], []
    for k in range(_STEPS + 1):
        t = k / _STEPS
        x, y = ((1 - t) ** 2 * start[i] + 2 * t * (1 - t) * bend[i] + t * t * end[i] for i in (0, 1))
        dx, dy = ((1 - t) * (bend[i] - start[i]) + t * (end[i] - bend[i]) for i in (0, 1))
        half = wide / 2 * (1 + (thinner - 1) * t) / (hypot(dx, dy) or 1.0)
        one.append((x - dy * half, y + dx * half))
        other.append((x + dy * half, y - dx * half))
    return (*one, *reversed(other))


def ribbon_tail(start: Point, through: Point, end: Point, wide: float, colour: str) -> Shape:
    """A loose end of ribbon, cut to a swallow's tail."""
    outline = curved(start, through, end, wide, 1.15)
    half = len(outline) // 2
    (ax, ay), (bx, by) = outline[half - 1], outline[half]
    dx, dy = end[0] - through[0], end[1] - through[1]
    back = 0.6 * wide / (hypot(dx, dy) or 1.0)
    notch = ((ax + bx) / 2 - dx * back, (ay + by) / 2 - dy * back)
    return Shape("tail", ((*outline[:half], notch, *outline[half:]),), (colour,))


def turned_on_a_wheel(right: Sequence[Point], middle: float) -> Outline:
    """Outline what is the same to both sides of x = *middle*, from the right side's corners, rounded off."""
    points = list(right)
    for _ in range(2):  # Chaikin's way: each corner is cut at a quarter of its sides
        cut = [points[0]]
        for (ax, ay), (bx, by) in pairwise(points):
            cut += [
                (0.75 * ax + 0.25 * bx, 0.75 * ay + 0.25 * by),
                (0.25 * ax + 0.75 * bx, 0.25 * ay + 0.75 * by),
            ]
        points = [*cut, points[-1]]
    return (*points, *((2 * middle - x, y) for x, y in reversed(points)))
