"""Briefs of small pieces to draw."""

from fractions import Fraction
from typing import Any

from sitegen.pictures.sketch.brief import Brief, Form, Stem
from sitegen.pictures.sketch.kinds import HABITS

FORMS: tuple[Form, ...] = ("hand-tied", "low", "bud-vases", "boutonniere", "garland", "arch", "upright")
# A paper small enough for a test: what is slow grows with it.
SMALL = (160, 200)


def stem(
    kind: str, amount: str | int, colour: str = "#f5c3a0", role: str = "mass", inches: float | None = None
) -> Stem:
    return Stem(kind, colour, inches or HABITS[kind].inches, Fraction(amount), role)


MIXED = (
    stem("garden-rose", 3, "#f8d3c6", "form"),
    stem("ranunculus", 4, "#ec8468"),
    stem("spray-rose", 2, "#64122a"),
    stem("delphinium", 1, "#fcf6ec", "line"),
    stem("filler", 2, "#fcfbf8", "filler"),
    stem("eucalyptus", 3, "#9fb0a2", "foliage"),
)


def brief(form: Form = "hand-tied", *stems: Stem, **more: Any) -> Brief:
    return Brief(form, stems or MIXED, **more)
