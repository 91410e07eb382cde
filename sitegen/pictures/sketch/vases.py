"""Bud vases in a row, some stems in each. The table is at y = 0."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from math import lcm
from typing import TypeAlias

from sitegen.pictures.sketch.bound import GREENS
from sitegen.pictures.sketch.brief import Brief
from sitegen.pictures.sketch.chance import Chance, normal, part
from sitegen.pictures.sketch.cluster import view_of
from sitegen.pictures.sketch.heads import Head, Long, heads_of, longs_of
from sitegen.pictures.sketch.kinds import HEADS
from sitegen.pictures.sketch.lines import curved, turned_on_a_wheel
from sitegen.pictures.sketch.spots import Item, Layout, Outline, Point, Shape, Spot, page_around, polar
from sitegen.pictures.sketch.ware import GLASS, WATER, shadow

One: TypeAlias = Head | Long

_MOST = 6
_STEMS_EACH = 3.4
_HIGH = (4.6, 3.6, 5.2, 4.0, 4.8, 3.4)
# Half the width at each height, of a bottle one high: (half, down).
_BOTTLES: tuple[tuple[Point, ...], ...] = (
    ((0.085, 0), (0.08, 0.25), (0.16, 0.45), (0.215, 0.7), (0.20, 0.9), (0.17, 1)),
    ((0.13, 0), (0.11, 0.05), (0.12, 0.2), (0.22, 0.42), (0.21, 1)),
    ((0.10, 0), (0.085, 0.3), (0.12, 0.5), (0.20, 0.75), (0.19, 0.93), (0.15, 1)),
)
_LEVEL = 0.42


def vases(brief: Brief, chance: Chance) -> Layout:
    stems = _row(several(brief))
    count = max(1, min(_MOST, round(len(stems) / _STEMS_EACH + 0.3)))
    items: list[Item] = []
    x = 0.0
    for k in range(count):
        group = stems[k::count]
        half = max(_half(group), 1.35)
        x += half if k else 0.0
        bottle = _Bottle(_BOTTLES[k % 3], (x, 0.10 * (k % 2)), _HIGH[k])
        items += _vase(bottle, group, brief, chance)
        x += half + 0.55
    page = page_around(items, HEADS, 0.05)
    return Layout(tuple(items), page, (((page[0] + page[2]) / 2, -5.0), 0.42 * (page[2] - page[0])))


def several(brief: Brief) -> Brief:
    """Where a vase takes thirds of a stem, give what three take: as many vases as make all stems whole."""
    parts = lcm(*(one.amount.denominator for one in brief.stems))
    if parts > _MOST:
        return brief
    return replace(brief, stems=tuple(replace(one, amount=one.amount * parts) for one in brief.stems))


def _row(brief: Brief) -> list[One]:
    """The largest heads first, so that each vase has its own, then what is small and what grows long."""
    heads = sorted(heads_of(brief), key=lambda one: (-one.inner, -one.radius, one.stem))
    return [*heads, *longs_of(brief)]


def _half(group: list[One]) -> float:
    widths = sorted(one.radius if isinstance(one, Head) else 0.16 * one.inches for one in group)
    return 0.62 * sum(widths[-2:])


@dataclass(frozen=True, slots=True)
class _Bottle:
    profile: tuple[Point, ...]
    foot: Point
    high: float

    @property
    def mouth(self) -> Point:
        return self.foot[0], self.foot[1] - self.high

    def outline(self, scale: float = 1.0, level: float = 0.0) -> Outline:
        """The whole outline, or a part of its width, from *level* on down."""
        x, y = self.mouth
        below = [(half, down) for half, down in self.profile if down >= level]
        if level:
            below.insert(0, (self._half_at(level), level))
        return turned_on_a_wheel(
            [(x + half * scale * self.high, y + down * self.high) for half, down in below], x
        )

    def _half_at(self, level: float) -> float:
        after = next(k for k, (_, down) in enumerate(self.profile) if down >= level)
        (h0, d0), (h1, d1) = self.profile[after - 1], self.profile[after]
        return h0 + (h1 - h0) * (level - d0) / (d1 - d0)


def _vase(bottle: _Bottle, group: list[One], brief: Brief, chance: Chance) -> Iterator[Item]:
    flowers, lines = _flowers(bottle, group, chance)
    greens = tuple(GREENS[n % len(GREENS)] for n in range(len(lines)))
    yield shadow(bottle.foot[0] + 0.22 * bottle.high, bottle.foot[1], 0.42 * bottle.high)
    yield from (spot for spot in flowers if spot.kind not in HEADS)
    yield Shape("stalks", tuple(lines), greens)
    if brief.vessel in {None, "glass"}:
        yield Shape("water", (bottle.outline(0.94, _LEVEL),), (WATER,))
        yield Shape("glass", (bottle.outline(),), (GLASS,))
    else:
        yield Shape("ware", (bottle.outline(),), (brief.ware or "#d6c7b4",))
    yield from (spot for spot in flowers if spot.kind in HEADS)


def _flowers(bottle: _Bottle, group: list[One], chance: Chance) -> tuple[list[Spot], list[Outline]]:
    """Stand each stem out of the mouth at its own height, to either side, so that no head hides another."""
    spots: list[Spot] = []
    lines: list[Outline] = []
    (x, y), high = bottle.mouth, bottle.high
    side, rise = (1 if part(chance) < 0.5 else -1), 0.9
    for n, one in enumerate(group):
        foot = (x - 0.07 * high * side, y + 0.90 * high)
        if isinstance(one, Long):
            turn, start = side * (9 + 4 * n) + normal(chance, 3), (x, y + 0.2)
            spots.append(
                Spot(one.stem, one.kind, one.colour, min(one.inches, 4.4) + 0.35 * rise, start, turn)
            )
            lines.append(curved(start, (x - 0.02 * side, y + 0.5 * high), foot, 0.08))
        else:
            out = side * (0.30 * one.radius + 0.5 * min(n, 2))
            at = (x + out, y - rise - 0.70 * one.radius)
            rise += 1.5 * one.radius
            lean = side * 9 + out * 8 + normal(chance, 6)
            for b, bloom in enumerate(one.blooms):
                beside = one.radius - bloom / 2 if len(one.blooms) > 1 else 0.0
                where = polar(120.0 * b + 40 * side, beside, at)
                spots.append(Spot(one.stem, one.kind, one.colour, bloom, where, lean, view_of(one.kind, 0.6)))
            lines.append(curved((at[0], at[1] + 0.2), (x + 0.10 * out, y + 0.15), foot, 0.10))
        side = -side
    return spots, lines
