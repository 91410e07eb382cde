"""Stems as they leave a bunch, and what binds them. The binding is at 0, 0."""

from collections.abc import Iterator
from math import cos, radians, sin, tau

import numpy as np

from sitegen.pictures.sketch.brief import Brief
from sitegen.pictures.sketch.chance import Chance, normal, part
from sitegen.pictures.sketch.heads import fill_of, times_drawn
from sitegen.pictures.sketch.kinds import HABITS
from sitegen.pictures.sketch.lines import curved, ribbon_tail
from sitegen.pictures.sketch.spots import Item, Point, Shape

GREENS = ("#86a062", "#7b975c", "#93ab70", "#6d8c55")
_MOST = 40
# So few heads leave no gap between them, but air.
_SPARSE = 9


def total(brief: Brief) -> int:
    return sum(times_drawn(one.amount) for one in brief.stems)


def waist(brief: Brief) -> float:
    """Half of how thick the bunch is where it is bound, in inches."""
    return 0.14 + 0.075 * float(np.sqrt(total(brief)))


def depth(brief: Brief, middle: Point, half: float, tall: float) -> Iterator[Item]:
    """The dusk among leaves and stems, which shows wherever heads leave a gap."""
    heads = sum(times_drawn(one.amount) for one in brief.stems if HABITS[one.kind].group == "head")
    if heads > _SPARSE and fill_of(brief).seen:
        ring = ((0.74 * half * cos(k / 24 * tau), 0.74 * tall * sin(k / 24 * tau)) for k in range(24))
        yield Shape("dusk", (tuple((middle[0] + x, middle[1] + y) for x, y in ring),), ("#8d9c7c",))


def stalks(brief: Brief, spread: float, top: float, tail: float, chance: Chance) -> Iterator[Item]:
    """Stems come from *spread* inches to both sides at *top*, cross in the binding, and end *tail* below."""
    count, half = min(total(brief), _MOST), waist(brief)
    outlines, colours = [], []
    for t in sorted(np.linspace(-1, 1, count) if count > 1 else (0.0,), key=lambda t: -abs(t)):
        side = float(t) + normal(chance, 0.06)
        end = tail * (0.90 + 0.10 * part(chance))
        foot = (-side * (0.30 * spread + 0.2) + normal(chance, 0.06), end)
        width = 0.10 + 0.05 * part(chance)
        above = ((side * spread, top), (side * half * 0.86, top * 0.26), (side * half * 0.5, 0.4))
        below = ((side * half * 0.6, 0.0), (foot[0] * 0.42, end * 0.5), foot)
        outlines += [curved(*above, width), curved(*below, width)]
        colours += [GREENS[int(chance.randint(len(GREENS)))]] * 2
    yield Shape("stalks", tuple(outlines), tuple(colours))


def bow(colour: str, at: Point, wide: float) -> Iterator[Item]:
    """A short bow, *wide* from the knot to the end of a loop."""
    for side in (-1, 1):
        end = (at[0] + 0.62 * side * wide, at[1] + 1.05 * wide)
        yield ribbon_tail(at, (at[0] + 0.34 * side * wide, at[1] + 0.5 * wide), end, 0.30 * wide, colour)
    for side in (-1, 1):
        loop = (_loop(k / 20) for k in range(21))
        yield Shape("tail", (tuple((at[0] + side * wide * x, at[1] + wide * y) for x, y in loop),), (colour,))
    knot = ((-0.14, -0.16), (0.14, -0.16), (0.16, 0.14), (-0.16, 0.14))
    yield Shape("band", (tuple((at[0] + wide * x, at[1] + wide * y) for x, y in knot),), (colour,))


def _loop(t: float) -> Point:
    """A drop that leaves the knot sideways, a little downwards."""
    lean, far = radians(-34 + 68 * t), cos(radians(-90 + 180 * t)) ** 0.55
    return far * cos(lean + 0.22), far * sin(lean + 0.22)


def ribbon(brief: Brief, high: float, tail: float, wide: float) -> Iterator[Item]:
    """A band *high* inches to both sides of the binding, and two ends that fall *tail* far."""
    if not brief.ribbon:
        return
    half = waist(brief) + 0.08
    for side, reaches in ((-1, 0.88), (1, 1.0)):
        x, out = side * half * 0.55, side * (0.25 * wide + 0.10 * tail)
        end = (x + out * 1.1, tail * reaches)
        yield ribbon_tail((x, 0.1), (x + out * 1.25, tail * 0.5), end, wide, brief.ribbon)
    sides = ((half, -high), (half * 0.95, -high * 0.3), (half * 0.96, high * 0.5), (half * 1.02, high))
    band = (*sides, *((-x, y) for x, y in reversed(sides)))
    yield Shape("band", (band,), (brief.ribbon,))
