"""A garland, hung in a shallow curve; and an arch, with two drifts on its ring, which stands on y = 0."""

from math import cos, degrees, pi, radians, sin, tau
from typing import TypeVar

from sitegen.pictures.sketch.brief import Brief
from sitegen.pictures.sketch.chance import Chance
from sitegen.pictures.sketch.heads import Head, heads_of, longs_of
from sitegen.pictures.sketch.kinds import HEADS
from sitegen.pictures.sketch.spots import Item, Layout, Outline, Point, Shape, page_around
from sitegen.pictures.sketch.strip import Bend, Strip, blooms, greens
from sitegen.pictures.sketch.ware import shadow

# How large a part of an arch's flowers its greater drift has, and how much of the ring both take.
_GREATER = 0.68
_COVERED = 0.55

T = TypeVar("T")


def garland(brief: Brief, chance: Chance) -> Layout:
    heads, longs = heads_of(brief), longs_of(brief)
    area = 1.25 * _area(heads)
    half = min(4.0, max(1.6, (area / 11) ** 0.5))
    length = max(12.0, 0.575 * area / half + 3, 0.30 * len(longs) + 10)
    strip = Strip(length, half, _hung(length))
    items: tuple[Item, ...] = (
        *greens(strip, longs, brief, chance, round(1.1 * length)),
        *blooms(strip, heads, chance),
    )
    return Layout(items, page_around(items, HEADS, 0.04), ((0.0, -0.02 * length), 0.36 * length))


def _area(heads: list[Head]) -> float:
    """What heads take where they lie close, in square inches."""
    return sum(pi * (0.86 * one.radius) ** 2 for one in heads)


def _hung(length: float) -> Bend:
    """A shallow curve, lowest in its middle."""
    deep = 0.11 * length

    def bend(along: float, beside: float) -> tuple[Point, float]:
        t = 2 * along / length - 1
        slope = -4 * deep * t / length
        return (t * length / 2 + beside * slope, -deep * t * t + beside), degrees(slope)

    return bend


def arch(brief: Brief, chance: Chance) -> Layout:
    heads, longs = heads_of(brief), longs_of(brief)
    area = 1.15 * _area(heads) + 1.6 * len(longs)
    half = max(2.0, (area / 34) ** 0.5)
    radius = max(9.0, area / (2 * half) / (_COVERED * tau))
    # From the lower left clockwise over the top; from the lower right upwards.
    drifts = ((232.0, 1, _GREATER, half), (152.0, -1, 1 - _GREATER, 0.82 * half))
    items: list[Item] = [*_ring(radius)]
    for k, (start, way, share, wide) in enumerate(drifts):
        length = _COVERED * tau * radius * share
        strip = Strip(length, wide, _round(radius, start, way))
        items += greens(strip, _split(longs)[k], brief, chance, round(1.2 * length))
        items += blooms(strip, _split(heads)[k], chance)
    return Layout(tuple(items), page_around(items, HEADS, 0.03), ((-0.1 * radius, -radius), 0.75 * radius))


def _split(stems: list[T]) -> tuple[list[T], list[T]]:
    """Deal stems to the two drifts in proportion, each line of the recipe too."""
    drifts: tuple[list[T], list[T]] = ([], [])
    for n, one in enumerate(stems):
        lesser = int((n + 1) * (1 - _GREATER) + 0.5) > int(n * (1 - _GREATER) + 0.5)
        drifts[lesser].append(one)
    return drifts


def _round(radius: float, start: float, way: int) -> Bend:
    """Along a ring that stands on y = 0, clockwise or against it, from *start* degrees from its top."""

    def bend(along: float, beside: float) -> tuple[Point, float]:
        angle = radians(start) + way * along / radius
        far = radius - way * beside
        return (far * sin(angle), -radius - far * cos(angle)), degrees(angle) + (0 if way > 0 else 180)

    return bend


def _ring(radius: float) -> tuple[Item, ...]:
    wide, foot = 0.035 * radius + 0.15, 0.42 * radius
    ring = (*_circle(radius, radius + wide / 2), *reversed(_circle(radius, radius - wide / 2)))
    high = (-0.02 * radius, 0.05 * radius)
    board = ((-foot, high[0]), (foot, high[0]), (1.02 * foot, high[1]), (-1.02 * foot, high[1]))
    return (
        shadow(0.1 * radius, high[1], 0.75 * radius),
        Shape("wood", (board,), ("#b09472",)),
        Shape("wood", (ring,), ("#a5865f",)),
    )


def _circle(radius: float, far: float) -> Outline:
    return tuple((far * sin(k / 60 * tau), -radius - far * cos(k / 60 * tau)) for k in range(61))
