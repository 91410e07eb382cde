"""Flowers in a vessel: low and long in a bowl, or upright in a jug or an urn. The rim is at 0, 0."""

from collections.abc import Iterator
from dataclasses import dataclass
from math import hypot

import numpy as np

from sitegen.pictures.sketch.bound import GREENS, depth, total
from sitegen.pictures.sketch.brief import Brief
from sitegen.pictures.sketch.chance import Chance, normal, part
from sitegen.pictures.sketch.cluster import crowd_of, facing, inwards
from sitegen.pictures.sketch.heads import Head, Long, fill_of, heads_of, longs_of
from sitegen.pictures.sketch.kinds import HABITS, HEADS
from sitegen.pictures.sketch.lines import curved
from sitegen.pictures.sketch.pack import Places, mounded
from sitegen.pictures.sketch.spots import Item, Layout, Shape, Spot, page_around, polar
from sitegen.pictures.sketch.ware import Vessel, vessel

_GOLDEN = 0.618


@dataclass(frozen=True, slots=True)
class Build:
    """How a mound is built, in parts of its own size.

    *wide* squared is its width to its height; *mouth* and *high* are its vessel's; stems *lean* at most so
    many degrees, and stand out by *top* upwards and by *side* sideways.
    """

    vessel: Vessel
    wide: float
    mouth: float
    high: float
    lean: float
    top: float
    side: float


_LOW = Build("bowl", wide=1.34, mouth=0.58, high=0.36, lean=98, top=0.72, side=1.05)
_UPRIGHT = Build("vase", wide=0.86, mouth=0.60, high=1.25, lean=76, top=1.15, side=0.85)
_URN = Build("urn", wide=1.12, mouth=0.50, high=0.95, lean=100, top=1.1, side=1.0)


def low(brief: Brief, chance: Chance) -> Layout:
    return _mound(brief, _LOW, chance)


def upright(brief: Brief, chance: Chance) -> Layout:
    return _mound(brief, _URN if brief.vessel == "urn" else _UPRIGHT, chance)


@dataclass(frozen=True, slots=True)
class _Mound:
    """Half the width and the height of the heads as placed."""

    half: float
    tall: float

    def edge(self, turn: float) -> float:
        """How far the mound reaches in a direction."""
        x, y = polar(turn, 1.0)
        return 1 / hypot(x / self.half, y / self.tall)


def _mound(brief: Brief, build: Build, chance: Chance) -> Layout:
    heads, longs = heads_of(brief), longs_of(brief)
    places = mounded(crowd_of(heads), chance, build.wide)
    size = _size(heads, places)
    mouth = max(build.mouth * 2 * size.half, 2.2)
    blooms = facing(heads, places, max(size.half, size.tall) * 1.02, chance, (0.0, -0.30 * size.tall))
    holds = vessel(brief.vessel or build.vessel, mouth, build.high * mouth, brief.ware or "#d9d2c4")
    items: tuple[Item, ...] = (
        *depth(brief, (0.0, -0.42 * size.tall), size.half, 0.62 * size.tall),
        *_fill(brief, build, size, chance),
        *_stand(longs, build, size, chance),
        *(_in_water(brief, mouth, build.high * mouth, chance) if brief.vessel == "glass" else ()),
        *holds,
        *_rim(brief, mouth, chance),
        *inwards(blooms),
    )
    wash = ((0.0, -0.45 * size.tall), 1.15 * max(size.half, size.tall))
    return Layout(items, page_around(items, HEADS, 0.045), wash)


def _in_water(brief: Brief, mouth: float, high: float, chance: Chance) -> Iterator[Item]:
    """Stems as a glass vessel shows them."""
    lines = []
    for t in np.linspace(-1, 1, max(2, min(14, total(brief)))):
        x, foot = 0.40 * mouth * float(t), -0.30 * mouth * float(t) + normal(chance, 0.12 * mouth)
        lines.append(curved((x, -0.6), (0.1 * x, 0.5 * high), (foot, 0.93 * high), 0.16))
    yield Shape("stalks", tuple(lines), tuple(GREENS[n % len(GREENS)] for n in range(len(lines))))


def _size(heads: list[Head], places: Places) -> _Mound:
    half = max((abs(x) + 0.9 * one.radius for (x, _), one in zip(places, heads, strict=True)), default=2.0)
    tall = max((0.9 * one.radius - y for (_, y), one in zip(places, heads, strict=True)), default=2.0)
    return _Mound(max(half, 1.4), max(tall, 1.4))


def _fill(brief: Brief, build: Build, size: _Mound, chance: Chance) -> Iterator[Spot]:
    """Leaves that are not in the count, behind and between the heads."""
    fill = fill_of(brief)
    for n, (kind, colour) in enumerate(fill.some(16 + round(3 * (size.half + size.tall)))):
        turn = (build.lean + 6) * (2 * ((n * _GOLDEN) % 1) - 1) + normal(chance, 4)
        edge = size.edge(turn)
        start = edge * (0.05 + 0.45 * part(chance))
        length = edge * ((1.04 if fill.seen else 0.78) + 0.14 * part(chance)) - start + 0.2
        yield Spot(-1, kind, colour, length, polar(turn, start), turn + normal(chance, 12), shade=0.05)


def _stand(longs: list[Long], build: Build, size: _Mound, chance: Chance) -> Iterator[Spot]:
    """Spires stand up in the middle, sprays and sprigs fan out to the sides."""
    spires = [one for one in longs if HABITS[one.kind].group == "spire"]
    others = [one for one in longs if HABITS[one.kind].group != "spire"]
    for row, spread, seen in ((others, build.lean, 0.52), (spires, build.lean * 0.62, 0.62)):
        for n, one in enumerate(row):
            turn = spread * (2 * (n + 0.5) / len(row) - 1) + normal(chance, 4)
            grown = build.top + (build.side - build.top) * min(1.0, abs(turn) / 90)
            grown *= 0.84 + 0.32 * part(chance)
            far = 0.94 * size.edge(turn) + min(seen * one.inches, 0.8 * (size.half + size.tall)) * grown
            start = max(0.0, far - one.inches)
            at, lean = polar(turn, start), turn + normal(chance, 6)
            yield Spot(one.stem, one.kind, one.colour, min(one.inches, far - start), at, lean)


def _rim(brief: Brief, mouth: float, chance: Chance) -> Iterator[Spot]:
    """A few leaves over the rim, not in the count."""
    fill = fill_of(brief)
    for n, (kind, colour) in enumerate(fill.some(6) if fill.seen else ()):
        x = mouth * (-0.42 + 0.84 * n / 5)
        turn = (118 + 40 * part(chance)) * (1 if x > 0 else -1)
        yield Spot(-1, kind, colour, 0.22 * mouth + 0.8, (0.85 * x, -0.25), turn, shade=0.04)
