"""Chance that is the same for the same seed: what this kind gives is frozen for all versions of numpy."""

from typing import TypeAlias

import numpy as np

Chance: TypeAlias = np.random.RandomState


def chance(seed: int) -> Chance:
    return np.random.RandomState(seed)


def normal(source: Chance, wide: float) -> float:
    """A number around 0, mostly within *wide* of it."""
    return float(source.normal(0, wide))


def part(source: Chance) -> float:
    """A number from 0 to 1."""
    return float(source.random_sample())
