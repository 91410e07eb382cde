"""Flowers along a line: a garland, or the drifts on an arch. Packed straight, then bent."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from math import pi, sin
from typing import TypeAlias

import numpy as np

from sitegen.pictures.sketch.brief import Brief
from sitegen.pictures.sketch.chance import Chance, normal, part
from sitegen.pictures.sketch.cluster import beside, crowd_of, view_of
from sitegen.pictures.sketch.heads import Head, Long, dealt, fill_of
from sitegen.pictures.sketch.pack import Places, pushed
from sitegen.pictures.sketch.spots import Point, Spot

Bend: TypeAlias = Callable[[float, float], tuple[Point, float]]
"""From a place along a line and beside it to a point, and how far the line is turned there, in degrees."""


@dataclass(frozen=True, slots=True)
class Strip:
    """A stretch of flowers: its length, half its width in the middle, and how it is bent."""

    length: float
    half: float
    bend: Bend

    def width(self, along: float) -> float:
        """Half the width at a place: full in the middle, thin to both ends."""
        t = min(1.0, max(0.0, along / self.length))
        return self.half * (0.42 + 0.58 * float(sin(pi * t) ** 0.7))


def blooms(strip: Strip, heads: list[Head], chance: Chance) -> list[Spot]:
    """Place heads along the strip, the largest in front."""
    rows: dict[int, list[Head]] = {}
    for one in heads:
        rows.setdefault(one.stem, []).append(one)
    spread = dealt(rows.values())
    spots = []
    for (along, aside), one in zip(_along(strip, spread, chance), spread, strict=True):
        at, turned = strip.bend(float(along), float(aside))
        outwards = min(1.0, abs(float(aside)) / (strip.half + 0.1))
        lean = turned + (30 + (60 if aside > 0 else -60) * outwards) + normal(chance, 14)
        for n, bloom in enumerate(one.blooms):
            view = view_of(one.kind, 0.2 if (n + one.stem + int(along * 3)) % 2 else 0.6)
            where = beside(one, n, turned, at)
            spots.append(Spot(one.stem, one.kind, one.colour, bloom, where, lean, view))
    return sorted(spots, key=lambda spot: spot.inches)


def _along(strip: Strip, heads: list[Head], chance: Chance) -> Places:
    crowd, count = crowd_of(heads, 0.86), len(heads)
    along = strip.length * (np.arange(count) + 0.5) / max(count, 1)
    places = np.stack((along, (chance.random_sample(count) - 0.5) * strip.half), axis=1)
    for turn in range(110 if count < 120 else 60):
        places = pushed(places, crowd, 0.25 if turn < 50 else 0.0)
        room = np.array([strip.width(float(along)) for along in places[:, 0]])
        edge = np.maximum(0.05, room - 0.7 * crowd.sizes)
        places[:, 1] = np.clip(places[:, 1], -edge, edge)
        places[:, 0] = np.clip(places[:, 0], 0.6 * crowd.sizes, strip.length - 0.6 * crowd.sizes)
    return places


def greens(strip: Strip, longs: list[Long], brief: Brief, chance: Chance, coat: int) -> Iterator[Spot]:
    """Lay leaf along both sides, from the ends inwards, tips outwards; *coat* leaves are not in the count."""
    fill = fill_of(brief)
    reach = 2.2 * strip.half + 1.6 if fill.seen else 1.2 * strip.half
    extra = [Long(-1, kind, colour, reach) for kind, colour in fill.some(coat)]
    laid: list[tuple[float, float, Long]] = []
    for row in (longs, extra):
        for n, one in enumerate(row):
            t = min(0.985, max(0.015, (n + 0.5) / len(row) + normal(chance, 0.012)))
            laid.append((abs(t - 0.5) + 0.06 * part(chance), t, one))
    laid.sort(key=lambda entry: -entry[0])
    for k, (_, t, one) in enumerate(laid):
        yield _leaf(strip, t, 1 if k % 2 else -1, one, chance)


def _leaf(strip: Strip, t: float, side: int, one: Long, chance: Chance) -> Spot:
    """Lay one sprig from the line outwards; in the middle they go both ways."""
    onwards = 1 if t + normal(chance, 0.05) > 0.5 else -1
    length = min(one.inches, 2.4 * strip.half + 2.6) * (0.85 + 0.25 * part(chance))
    along = t * strip.length - onwards * 0.30 * length
    at, turned = strip.bend(along, side * 0.10 * strip.half * normal(chance, 1))
    splay = (44 - 30 * (abs(t - 0.5) * 2) ** 2) * (0.35 + part(chance))
    turn = turned + onwards * 90 + side * onwards * splay
    return Spot(one.stem, one.kind, one.colour, length, at, turn, shade=0.05 if one.stem < 0 else 0.0)
