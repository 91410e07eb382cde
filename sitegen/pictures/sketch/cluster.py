"""Heads as a cluster shows them: seen from the front in its middle, from the side at its edge."""

from collections.abc import Iterable, Iterator
from math import atan2, degrees, hypot

import numpy as np

from sitegen.pictures.sketch.chance import Chance, normal, part
from sitegen.pictures.sketch.heads import Head
from sitegen.pictures.sketch.pack import Crowd, Places
from sitegen.pictures.sketch.spots import Point, Spot, polar

# A tulip never shows its throat.
_SHY = frozenset({"tulip"})


def crowd_of(heads: list[Head], overlap: float = 0.82) -> Crowd:
    return Crowd(
        np.array([one.radius for one in heads], dtype=np.float64),
        np.array([one.stem for one in heads], dtype=np.int64),
        np.array([one.inner for one in heads], dtype=np.float64),
        overlap,
    )


def reach_of(places: Places, heads: list[Head], least: float) -> float:
    """How far the heads reach from 0, 0."""
    far = (hypot(x, y) + one.radius * 0.92 for (x, y), one in zip(places, heads, strict=True))
    return max(far, default=least)


def view_of(kind: str, far: float) -> str:
    """How a head is seen that lies so far from the middle, where 1 is the edge."""
    if kind in _SHY:
        return "side"
    return "facing" if far < 0.34 else "three-quarter" if far < 0.95 else "side"


def facing(
    heads: list[Head], places: Places, reach: float, chance: Chance, middle: Point
) -> Iterator[tuple[float, Spot]]:
    """Give each bloom with how far out it lies: 1 is the edge."""
    for place, one in zip(places, heads, strict=True):
        x, y = float(place[0]) - middle[0], float(place[1]) - middle[1]
        far, turn = hypot(x, y) / reach, degrees(atan2(x, -y))
        shade = 0.10 * max(0.0, (0.3 * x + 0.95 * y) / reach)
        start = 360 * part(chance)
        for n, bloom in enumerate(one.blooms):
            view = view_of(one.kind, far if not n else max(far, 0.4))
            lean = turn * min(1.0, 0.15 + far) * 0.85 + normal(chance, 9)
            at = beside(one, n, start, (float(place[0]), float(place[1])))
            yield far + 0.001 * n, Spot(one.stem, one.kind, one.colour, bloom, at, lean, view, shade)


def inwards(blooms: Iterable[tuple[float, Spot]]) -> list[Spot]:
    """Order blooms so that the middle, which is nearest, is laid last."""
    return [spot for _, spot in sorted(blooms, key=lambda pair: -pair[0])]


def beside(one: Head, n: int, start: float, middle: Point) -> Point:
    """Where bloom number *n* of a spray lies: around its middle, and of four and more one in it."""
    count = len(one.blooms)
    if count == 1 or (count > 3 and n == 0):
        return middle
    return polar(start + 360 * n / (count - (count > 3)), one.radius - one.blooms[n] / 2, middle)
