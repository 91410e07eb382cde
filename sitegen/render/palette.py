"""The colours of an event as its recipes draw them: how much of each is in bloom, and a name for it."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from functools import lru_cache

from sitegen.check.colour import difference
from sitegen.model.catalogue import Stem
from sitegen.price.priced import PricedEvent
from sitegen.render.couple import Swatch
from sitegen.render.grounds import is_deep
from sitegen.render.voice import Voice
from sitegen.values.bag import add, times
from sitegen.values.money import share

# Colours closer than this (CIEDE2000) are one colour of the band to the eye across a room; ours, no source.
_ALIKE = 6.0
_MOST = 8
_LEAST_WIDTH = 4
_SLIM = 80  # tenths of a percent
# How wide a stem without a `bloom` counts, in inches; common practice, no source.
_WIDTH = {"mass": "2.5", "form": "3", "line": "8", "filler": "1.25", "foliage": "2"}
# The bloom of a line flower is its spire, about five times as long as wide; common practice, no source.
_SPIRE = 5
_INCH = Fraction(254, 10_000)


@dataclass(slots=True)
class _Patch:
    """A colour of the band while it is being gathered."""

    colour: str
    area: Fraction = Fraction(0)
    carriers: dict[str, None] = field(default_factory=dict)


def palette(event: PricedEvent, voice: Voice) -> tuple[Swatch, ...]:
    """Give the band's colours, the largest first; percentages add up to 100."""
    stems = event.shared.stems
    patches = _gather(_areas(event), stems)
    if not patches:
        return ()
    patches.sort(key=lambda patch: (-patch.area, patch.colour))
    percents = [percent for percent in share(100, [patch.area for patch in patches]) if percent]
    widths = share(1000, [max(percent, _LEAST_WIDTH) for percent in percents])
    tell = event.shared.studio.show_stems != "no"
    swatches, start = [], 0
    # The largest come first, so those that round to nothing are the last, and are left out.
    for patch, percent, width in zip(patches, percents, widths, strict=False):
        carried = voice.listed(tuple(patch.carriers)[:3]) if tell else ""
        name = voice.words(colour_name(patch.colour))
        said, deep = voice.percent(str(percent)), is_deep(patch.colour)
        swatches.append(
            Swatch(patch.colour, name, carried, said, _tenths(start), _tenths(width), deep, width < _SLIM)
        )
        start += width
    return tuple(swatches)


def _tenths(value: int) -> str:
    return f"{value // 10}.{value % 10}"


def _areas(event: PricedEvent) -> Mapping[str, Fraction]:
    """Sum the bloom area of each stem (without the factor that all circles share) at what we suggest."""
    used = add(times(piece.as_suggested.made.recipe, piece.file.quantity.usual) for piece in event.pieces)
    return {id_: n * _area(event.shared.stems[id_]) for id_, n in used.items()}


def _area(stem: Stem) -> Fraction:
    width = stem.bloom.metres if stem.bloom else Fraction(_WIDTH[stem.role]) * _INCH
    return width**2 / _SPIRE if stem.role == "line" else width**2


def _gather(areas: Mapping[str, Fraction], stems: Mapping[str, Stem]) -> list[_Patch]:
    """Let each stem, the most seen first, join the colour it is like or is named like, or begin its own."""
    patches: list[_Patch] = []
    for id_, area in sorted(areas.items(), key=lambda item: (-item[1], item[0])):
        stem = stems[id_]
        if area:
            patch = _like(stem.colour, patches)
            if patch is None:
                patches.append(patch := _Patch(stem.colour))
            patch.area += area
            patch.carriers[stem.name.split(",")[0]] = None
    return patches


def _like(colour: str, patches: list[_Patch]) -> _Patch | None:
    if not patches:
        return None
    nearest = min(patches, key=lambda patch: distance(colour, patch.colour))
    if len(patches) >= _MOST or distance(colour, nearest.colour) < _ALIKE:
        return nearest
    name = colour_name(colour)
    return next((patch for patch in patches if colour_name(patch.colour) == name), None)


@lru_cache(maxsize=65536)
def distance(one: str, other: str) -> float:
    """Give the CIEDE2000 difference of two colours written `#rrggbb`; the same pair is measured once."""
    return 0.0 if one == other else difference(one, other)


@lru_cache(maxsize=4096)
def colour_name(colour: str) -> str:
    """Name a colour by the nearest of a short list of ours, in English."""
    return min(COLOURS, key=lambda name: distance(colour, COLOURS[name]))


COLOURS = {
    "White": "#fdfdfb",
    "Ivory": "#f7f0e2",
    "Cream": "#f3e3c0",
    "Butter": "#f5e09a",
    "Yellow": "#f2c832",
    "Gold": "#c99a3b",
    "Champagne": "#e8d3b5",
    "Peach": "#f4bd94",
    "Apricot": "#f0a35e",
    "Orange": "#e8752a",
    "Rust": "#a8522b",
    "Coral": "#ea7a62",
    "Blush": "#f0cdc0",
    "Pale pink": "#f3c9d0",
    "Pink": "#e58fa5",
    "Deep pink": "#c8456f",
    "Red": "#b81f2d",
    "Wine": "#6b1a2e",
    "Burgundy": "#471521",
    "Mauve": "#c6a0a8",
    "Lilac": "#c5b1d8",
    "Purple": "#6d3f86",
    "Plum": "#4c2340",
    "Pale blue": "#b5c9de",
    "Blue": "#5577ad",
    "Deep blue": "#28406f",
    "Silver green": "#97aa9b",
    "Pale green": "#cfdcae",
    "Fresh green": "#8fae5a",
    "Olive": "#7a7d4a",
    "Green": "#4f7a4a",
    "Deep green": "#2f4a34",
    "Sand": "#cdb596",
    "Brown": "#7a5540",
    "Chocolate": "#43291f",
    "Grey": "#a3a39e",
    "Black": "#232021",
}
