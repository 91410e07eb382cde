"""Put round heads close together, as a hand does: none hidden, large ones inside, kinds mingled."""

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from sitegen.pictures.sketch.chance import Chance

Places: TypeAlias = NDArray[np.float64]
Bound: TypeAlias = Callable[[Places], Places]
"""Brings places back to where they may be."""

# The angle between one seed and the next in a sunflower, in radians.
_GOLDEN = 2.399963
# Beyond so many, chance mingles them well enough, and trying all pairs would take long.
_MINGLED_MOST = 80


@dataclass(frozen=True, slots=True)
class Crowd:
    """Discs to place: their radii, what each is like, how much each is drawn inwards (0 to 1)."""

    sizes: Places
    likes: NDArray[np.int64]
    inner: Places
    overlap: float = 0.82
    reach: Places = field(init=False)
    alike: Places = field(init=False)

    def __post_init__(self) -> None:
        apart = 1 - np.eye(len(self.sizes))
        object.__setattr__(self, "reach", (self.sizes[:, None] + self.sizes[None, :]) * self.overlap * apart)
        object.__setattr__(self, "alike", (self.likes[:, None] == self.likes[None, :]) * apart)


def packed(crowd: Crowd, chance: Chance, wide: float = 1.0) -> Places:
    """Place the discs into a close patch around 0, 0; its width to its height is *wide* squared."""
    if not len(crowd.sizes):
        return np.zeros((0, 2))
    places = _mingled(_sunflower(crowd, chance), crowd)
    places = _drawn_in(places, crowd, wide, lambda found: found)
    return np.asarray(places - np.average(places, axis=0, weights=crowd.sizes**2))


def mounded(crowd: Crowd, chance: Chance, wide: float = 1.0) -> Places:
    """Place the discs into a close mound that stands on y = 0, its middle at x = 0."""
    if not len(crowd.sizes):
        return np.zeros((0, 2))
    places = _mingled(_sunflower(crowd, chance), crowd)
    places[:, 1] = -np.abs(places[:, 1]) * 1.2
    floor = -0.34 * crowd.sizes + 0.42 * chance.random_sample(len(crowd.sizes)) ** 2

    def above(found: Places) -> Places:
        return np.stack((found[:, 0], np.minimum(found[:, 1], floor)), axis=1)

    places = _drawn_in(places, crowd, wide, above)
    places[:, 0] -= np.average(places[:, 0], weights=crowd.sizes**2)
    return places


def _drawn_in(places: Places, crowd: Crowd, wide: float, bound: Bound) -> Places:
    stretch = np.array((wide, 1 / wide))
    # Many would part by size, large ones outwards, if they were kneaded for long: they begin close enough.
    many = len(places) > _MINGLED_MOST
    for turn in range(60 if many else 170):
        places = bound(pushed(places, crowd, 0.30 if turn < 80 and not many else 0.0))
        pull = 0.006 if many else 0.034 if turn < 140 else 0.012
        places = places - pull * (1 + 0.8 * crowd.inner[:, None]) * places / stretch**2
    for _ in range(40):
        places = bound(pushed(places, crowd, 0.0))
    return places


def pushed(places: Places, crowd: Crowd, keep_apart: float) -> Places:
    """Push all apart that lie too close, by a part of what is missing; those alike a little farther."""
    gap = places[:, None, :] - places[None, :, :]
    far = np.sqrt((gap**2).sum(axis=2)) + 1e-9
    lack = np.maximum(0, crowd.reach * (1 + keep_apart * crowd.alike) - far)
    return np.asarray(places + (gap * (0.33 * lack / far)[..., None]).sum(axis=1))


def _sunflower(crowd: Crowd, chance: Chance) -> Places:
    count = len(crowd.sizes)
    noise = 2.5 if count > _MINGLED_MOST else 0.9
    order = np.argsort(-(crowd.inner + noise * chance.random_sample(count)), kind="stable")
    taken = (crowd.sizes[order] * crowd.overlap) ** 2
    radius = np.sqrt(np.cumsum(taken) - taken / 2)
    angle = np.arange(count) * _GOLDEN + chance.random_sample() * 2 * np.pi
    places = np.empty((count, 2))
    places[order] = np.stack((radius * np.cos(angle), radius * np.sin(angle)), axis=1)
    return places


def _mingled(places: Places, crowd: Crowd) -> Places:
    """Swap heads of like size as long as that brings like ones farther from each other."""
    sizes, likes = crowd.sizes, crowd.likes
    if len(sizes) > _MINGLED_MOST:
        return places
    for i in range(len(sizes)):
        near = np.abs(sizes - sizes[i]) < 0.35 * sizes[i]
        for j in map(int, np.flatnonzero(near & (likes != likes[i]))):
            swapped = places.copy()
            swapped[i], swapped[j] = places[j], places[i]
            if _crowding(swapped, crowd, i, j) < _crowding(places, crowd, i, j):
                places = swapped
    return places


def _crowding(places: Places, crowd: Crowd, *ones: int) -> float:
    """How close each of *ones* lies to those like it."""
    total = 0.0
    for one in ones:
        gap = ((places - places[one]) ** 2).sum(axis=1)
        total += float((crowd.alike[one] / (gap + 0.2)).sum())
    return total
