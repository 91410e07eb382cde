"""A boutonniere: one flower, a bud or two, a leaf behind, the stems wrapped. The wrap's middle is at 0, 0."""

from collections.abc import Iterator
from dataclasses import replace

import numpy as np

from sitegen.pictures.sketch.bound import bow, ribbon, stalks
from sitegen.pictures.sketch.brief import Brief
from sitegen.pictures.sketch.chance import Chance, normal
from sitegen.pictures.sketch.cluster import crowd_of, facing, reach_of
from sitegen.pictures.sketch.heads import Head, Long, fill_of, heads_of, longs_of
from sitegen.pictures.sketch.kinds import HABITS, HEADS
from sitegen.pictures.sketch.pack import packed
from sitegen.pictures.sketch.spots import Item, Layout, Point, Spot, page_around

# The bloom, in inches, that is drawn as large as it is; common practice, no source.
_SMALL = 1.5
_LEANS = (-108, 104, -72, 66, -34, 28, 0)


def boutonniere(brief: Brief, chance: Chance) -> Layout:
    heads, longs = [_worn(one) for one in heads_of(brief)], longs_of(brief)
    places = packed(crowd_of(heads, 0.76), chance, 0.9)
    reach = reach_of(places, heads, 0.8)
    if heads:  # the largest flower lies lowest and in front
        largest = max(range(len(heads)), key=lambda n: heads[n].radius)
        if places[largest][1] < places[:, 1].mean():
            places = -places
    middle = (0.0, -0.86 * reach - 0.5)
    blooms = [spot for _, spot in facing(heads, places + np.array(middle), 1.5 * reach, chance, middle)]
    below = stalks(brief, 0.14 * reach, middle[1] + 0.6 * reach, 1.35, chance)
    if brief.cuff:
        below = bow(brief.ribbon, (middle[0], middle[1] + 0.72 * reach), 0.8 * reach + 0.4)
    items: tuple[Item, ...] = (
        *below,
        *_leaves(brief, reach, middle, chance),
        *_behind(longs, reach, middle, chance),
        *sorted(blooms, key=lambda spot: spot.inches),
        *(() if brief.cuff else ribbon(brief, 0.5, 1.15, 0.24)),
    )
    return Layout(items, page_around(items, HEADS, 0.09), (middle, reach * 1.6))


def _worn(one: Head) -> Head:
    """A flower to wear is picked small: large blooms are drawn smaller, in their order."""
    return replace(one, blooms=tuple(_SMALL * (bloom / _SMALL) ** 0.62 for bloom in one.blooms))


def _behind(longs: list[Long], reach: float, middle: Point, chance: Chance) -> Iterator[Spot]:
    for n, one in enumerate(longs):
        turn = -62 + 124 * (n + 0.5) / len(longs) + normal(chance, 5)
        seen = 0.42 if HABITS[one.kind].group == "spray" else 0.58
        length = 1.05 * reach + seen * min(one.inches, 1.2 * reach + 1.2)
        yield Spot(one.stem, one.kind, one.colour, length, (middle[0], middle[1] + 0.25 * reach), turn)


def _leaves(brief: Brief, reach: float, middle: Point, chance: Chance) -> Iterator[Spot]:
    """A few leaves that are not in the count hide where stems meet."""
    fill = fill_of(brief)
    for n, (turn, (kind, colour)) in enumerate(zip(_LEANS, fill.some(len(_LEANS)), strict=False)):
        length, lean = (1.28 if n > 1 else 1.0) * reach + 0.55, turn + normal(chance, 8)
        length *= 1.0 if fill.seen else 0.7
        yield Spot(-1, kind, colour, length, (middle[0], middle[1] + 0.5 * reach), lean, shade=0.04)
