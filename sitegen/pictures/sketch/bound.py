"""Stems as they leave a bunch, and what binds them. The binding is at 0, 0."""

from collections.abc import Iterator

import numpy as np

from sitegen.pictures.sketch.brief import Brief
from sitegen.pictures.sketch.chance import Chance, normal, part
from sitegen.pictures.sketch.heads import times_drawn
from sitegen.pictures.sketch.lines import curved, ribbon_tail
from sitegen.pictures.sketch.spots import Item, Shape

GREENS = ("#86a062", "#7b975c", "#93ab70", "#6d8c55")
_MOST = 40


def total(brief: Brief) -> int:
    return sum(times_drawn(one.amount) for one in brief.stems)


def waist(brief: Brief) -> float:
    """Half of how thick the bunch is where it is bound, in inches."""
    return 0.14 + 0.075 * float(np.sqrt(total(brief)))


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
