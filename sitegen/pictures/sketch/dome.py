"""A hand-tied bouquet: a dome of heads in a collar of leaf, bound, the stems crossing below.

The binding is at 0, 0.
"""

from collections.abc import Iterator

import numpy as np

from sitegen.pictures.sketch.bound import depth, ribbon, stalks
from sitegen.pictures.sketch.brief import Brief
from sitegen.pictures.sketch.chance import Chance, normal, part
from sitegen.pictures.sketch.cluster import crowd_of, facing, inwards, reach_of
from sitegen.pictures.sketch.heads import Long, fill_of, heads_of, longs_of
from sitegen.pictures.sketch.kinds import HABITS, HEADS
from sitegen.pictures.sketch.pack import packed
from sitegen.pictures.sketch.spots import Item, Layout, Point, Spot, page_around, polar

# How much of a stem's length stands out beyond the heads.
_SEEN = {"sprig": 0.50, "spray": 0.58, "spire": 0.62}
# A golden part of the circle: each next leaf falls into the widest gap that is left.
_GOLDEN = 0.618


def dome(brief: Brief, chance: Chance) -> Layout:
    heads, longs = heads_of(brief), longs_of(brief)
    places = packed(crowd_of(heads), chance, 1.05)
    reach = reach_of(places, heads, 1.2)
    middle = (0.0, -1.22 * reach - 0.7)
    collar = _collar(longs, reach, middle, chance) if heads else _fan(longs, chance)
    blooms = facing(heads, places + np.array(middle), reach, chance, middle)
    tail = min(7.0, 0.62 * reach + 1.6)
    items: tuple[Item, ...] = (
        *stalks(brief, 0.55 * reach, middle[1] + 0.62 * reach, tail, chance),
        *depth(brief, middle, reach, reach),
        *_under(brief, reach, middle, chance),
        *collar,
        *inwards(blooms),
        *ribbon(brief, 0.30 + 0.10 * reach, tail * (1.2 if brief.trail else 0.7), 0.28 + 0.06 * reach),
    )
    return Layout(items, page_around(items, HEADS, 0.05), (middle, reach * 1.3))


def _under(brief: Brief, reach: float, middle: Point, chance: Chance) -> Iterator[Spot]:
    """Leaves that are not in the count, under and between the heads."""
    fill = fill_of(brief)
    for n, (kind, colour) in enumerate(fill.some(16 + round(4 * reach))):
        turn = -180 + 360 * ((n * _GOLDEN) % 1) + normal(chance, 5)
        edge = 0.80 if not fill.seen else 0.98 if abs(turn) > 120 else 1.12
        start = reach * (0.12 + 0.40 * part(chance))
        length = reach * (edge + 0.16 * part(chance)) - start + 0.2
        at = polar(turn, start, middle)
        yield Spot(-1, kind, colour, length, at, turn + normal(chance, 13), shade=0.05)


def _fan(longs: list[Long], chance: Chance) -> Iterator[Spot]:
    """Without a head, all grow out of the binding."""
    for n, one in enumerate(longs):
        turn = -58 + 116 * (n + 0.5) / len(longs) + normal(chance, 3)
        at = polar(turn, 0.4 + 0.9 * (n % 3), (0.0, -0.4))
        yield Spot(one.stem, one.kind, one.colour, one.inches, at, turn)


def _collar(longs: list[Long], reach: float, middle: Point, chance: Chance) -> Iterator[Spot]:
    """Sprigs, sprays and spires stand out all round, the longest upwards."""
    for n, one in enumerate(longs):
        turn = -122 + 244 * (n + 0.5) / len(longs) + normal(chance, 4)
        seen = min(_SEEN[HABITS[one.kind].group] * one.inches, 0.9 * reach + 0.6)
        seen *= (1.0 if abs(turn) < 80 else 0.72) * (0.82 + 0.36 * part(chance))
        far = 0.96 * reach + seen
        start = max(0.1, far - one.inches)
        at, lean = polar(turn, start, middle), turn + normal(chance, 6)
        yield Spot(one.stem, one.kind, one.colour, min(one.inches, far - start), at, lean)
