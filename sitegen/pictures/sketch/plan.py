"""Which sketches are to be painted: names and sizes are known here, before any is."""

import hashlib
from collections.abc import Iterable
from dataclasses import dataclass

from sitegen.pictures.plan import Look, Picture, Rendition, renditions
from sitegen.pictures.sketch.brief import Brief, Form
from sitegen.pictures.sketch.painter import painter

# The paper of each form, in pixels.
SIZES: dict[Form, tuple[int, int]] = {
    "hand-tied": (960, 1200),
    "boutonniere": (960, 1200),
    "upright": (960, 1200),
    "low": (1200, 860),
    "bud-vases": (1200, 860),
    "garland": (1200, 700),
    "arch": (1040, 1120),
}
# Percent of that, for previews.
_QUICK = 60


@dataclass(frozen=True, slots=True)
class Drawing:
    """One sketch and all that is made of it, widest first. *others* are drawn at the same scale."""

    brief: Brief
    others: tuple[Brief, ...]
    size: tuple[int, int]
    renditions: tuple[Rendition, ...]


def draw(brief: Brief, look: Look, others: Iterable[Brief] = ()) -> Drawing:
    """Say what is to be made of a sketch; its names come from all that shapes its pixels.

    Only *others* on the same paper share its scale: a set that differs in form has none in common.
    """
    beside = sorted({one for one in others if one != brief and one.form == brief.form}, key=repr)
    width, height = SIZES[brief.form]
    size = (width * _QUICK // 100, height * _QUICK // 100) if look.quick else (width, height)
    key = repr((painter(), brief, beside))
    digest = hashlib.blake2b(key.encode(), digest_size=20).hexdigest()
    return Drawing(brief, tuple(beside), size, renditions(digest, (0, 0, *size), look))


def sketch(drawing: Drawing, alt: str) -> Picture:
    """Return the record of a planned sketch for a template."""
    webp = tuple(one for one in drawing.renditions if one.encoding.format == "WEBP")
    fallback = next(one for one in drawing.renditions if one.encoding.format == "JPEG")
    return Picture(alt, "sketch", "", webp, fallback)
