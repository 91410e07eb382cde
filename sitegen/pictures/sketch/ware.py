"""What holds the flowers: bowls, vases, jugs, urns, baskets, by their outlines."""

from collections.abc import Iterator
from math import cos, sin, tau
from typing import Literal

from sitegen.pictures.sketch.lines import curved, turned_on_a_wheel
from sitegen.pictures.sketch.spots import Item, Point, Shape

Vessel = Literal["bowl", "vase", "jug", "urn", "glass", "basket"]

# Half the width at each height, of a vessel one wide at its rim and one high: (half, down).
_PROFILES: dict[Vessel, tuple[Point, ...]] = {
    "bowl": (
        (0.50, 0),
        (0.51, 0.08),
        (0.485, 0.30),
        (0.40, 0.55),
        (0.27, 0.78),
        (0.20, 0.86),
        (0.20, 0.92),
        (0.26, 1),
    ),
    "urn": (
        (0.54, 0),
        (0.54, 0.05),
        (0.46, 0.10),
        (0.44, 0.30),
        (0.34, 0.50),
        (0.16, 0.62),
        (0.10, 0.72),
        (0.12, 0.84),
        (0.26, 0.90),
        (0.30, 1),
    ),
    "jug": ((0.50, 0), (0.50, 0.04), (0.44, 0.12), (0.46, 0.30), (0.60, 0.60), (0.58, 0.85), (0.52, 1)),
    "vase": ((0.46, 0), (0.44, 0.10), (0.52, 0.40), (0.50, 0.75), (0.42, 1)),
    "glass": ((0.50, 0), (0.48, 0.5), (0.47, 1)),
    "basket": ((0.54, 0), (0.54, 0.06), (0.48, 0.5), (0.40, 1)),
}


def vessel(kind: Vessel, wide: float, high: float, colour: str) -> Iterator[Item]:
    """Give a vessel *wide* at its rim, which is at 0, 0, and *high*, and the shadow it stands in."""
    foot = _PROFILES[kind][-1][0] * wide
    yield shadow(0.35 * foot, high - 0.02 * wide, 1.35 * foot + 0.12 * wide)
    if kind == "jug":
        ends = (0.47 * wide, 0.10 * high), (0.89 * wide, 0.34 * high), (0.57 * wide, 0.66 * high)
        yield Shape("ware", (curved(*ends, 0.09 * wide),), (colour,))
    outline = turned_on_a_wheel([(half * wide, down * high) for half, down in _PROFILES[kind]], 0.0)
    if kind == "glass":
        yield Shape("water", (outline,), (WATER,))
    yield Shape("glass" if kind == "glass" else "reed" if kind == "basket" else "ware", (outline,), (colour,))


WATER = "#b9cdc8"
GLASS = "#c3d3d0"


def shadow(x: float, y: float, half: float) -> Item:
    """The soft shadow on a table."""
    ring = tuple((x + half * cos(k / 24 * tau), y + 0.11 * half * sin(k / 24 * tau)) for k in range(24))
    return Shape("shade", (ring,), ("#8f8aa6",))
