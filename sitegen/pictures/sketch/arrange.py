"""From a brief to a layout: which way of building has which arrangement."""

from collections.abc import Callable, Iterable, Mapping

from sitegen.pictures.sketch.boutonniere import boutonniere
from sitegen.pictures.sketch.brief import Brief, Form
from sitegen.pictures.sketch.chance import Chance, chance
from sitegen.pictures.sketch.dome import dome
from sitegen.pictures.sketch.garland import arch, garland
from sitegen.pictures.sketch.mound import low, upright
from sitegen.pictures.sketch.spots import Layout, Page
from sitegen.pictures.sketch.vases import vases

_FORMS: Mapping[Form, Callable[[Brief, Chance], Layout]] = {
    "hand-tied": dome,
    "low": low,
    "upright": upright,
    "bud-vases": vases,
    "boutonniere": boutonniere,
    "garland": garland,
    "arch": arch,
}


def arranged(brief: Brief) -> Layout:
    """Place every stem of *brief*; the same brief always gives the same places."""
    return _FORMS[brief.form](brief, chance(brief.seed))


def together(briefs: Iterable[Brief]) -> Page:
    """Give the page that holds each of *briefs*, so that all of a set can be drawn at one scale."""
    pages = [arranged(one).page for one in briefs]
    lefts, tops, rights, bottoms = zip(*pages, strict=True)
    return min(lefts), min(tops), max(rights), max(bottoms)
