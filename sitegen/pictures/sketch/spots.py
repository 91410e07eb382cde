"""Where things go on a sketch, in inches, y downwards. Nothing is painted here."""

from collections.abc import Iterable
from dataclasses import dataclass
from math import cos, radians, sin
from typing import Literal, TypeAlias

Point: TypeAlias = tuple[float, float]
Outline: TypeAlias = tuple[Point, ...]
Page: TypeAlias = tuple[float, float, float, float]
"""Left, top, right, bottom."""

Stuff = Literal["stalks", "band", "tail", "ware", "glass", "water", "wood", "shade", "dusk", "reed"]


@dataclass(frozen=True, slots=True)
class Spot:
    """One flower, spray or leaf. *stem* is its line of the brief, or -1 for a leaf that only fills.

    A head's *at* is its middle, anything else's the end of its stem. *turn* is clockwise from growing
    upwards; *view* is how a head is seen; *shade* makes it darker by so much.
    """

    stem: int
    kind: str
    colour: str
    inches: float
    at: Point
    turn: float
    view: str = ""
    shade: float = 0.0


@dataclass(frozen=True, slots=True)
class Shape:
    """Plain forms by their outlines, each in its colour: stalks, a ribbon, a vase."""

    stuff: Stuff
    outlines: tuple[Outline, ...]
    colours: tuple[str, ...]


Item: TypeAlias = Spot | Shape


@dataclass(frozen=True, slots=True)
class Layout:
    """All of a sketch from back to front, the page it needs, and where the loose wash behind it lies."""

    items: tuple[Item, ...]
    page: Page
    wash: tuple[Point, float] | None = None


def polar(turn: float, far: float, middle: Point = (0.0, 0.0)) -> Point:
    """Go *far* from *middle* in the direction *turn*, in degrees clockwise from up."""
    return middle[0] + far * sin(radians(turn)), middle[1] - far * cos(radians(turn))


def tip(spot: Spot) -> Point:
    return polar(spot.turn, spot.inches, spot.at)


def page_around(items: Iterable[Item], heads: frozenset[str], margin: float) -> Page:
    """Give the page that holds all of *items*; kinds among *heads* are round."""
    points: list[Point] = []
    for item in items:
        if isinstance(item, Shape):
            points += [point for outline in item.outlines for point in outline]
        else:
            half = item.inches * (0.75 if item.kind == "tulip" else 0.55 if item.kind in heads else 0.12)
            for x, y in (item.at,) if item.kind in heads else (item.at, tip(item)):
                points += [(x - half, y - half), (x + half, y + half)]
    xs, ys = [x for x, _ in points], [y for _, y in points]
    room = margin * max(max(xs) - min(xs), max(ys) - min(ys))
    return min(xs) - room, min(ys) - room, max(xs) + room, max(ys) + room
