"""Bags: how many of each named thing. Names keep the order in which they were first put in."""

from collections.abc import Iterable, Mapping
from fractions import Fraction
from typing import TypeAlias

Bag: TypeAlias = Mapping[str, Fraction]


def add(bags: Iterable[Bag]) -> dict[str, Fraction]:
    """Put all *bags* into one."""
    out: dict[str, Fraction] = {}
    for bag in bags:
        for name, amount in bag.items():
            out[name] = out[name] + amount if name in out else amount
    return out


def times(bag: Bag, factor: Fraction | int) -> dict[str, Fraction]:
    return {name: amount * factor for name, amount in bag.items()}
