"""Finds a theme by its name and reads its manifest, theme.yaml: templates, styles, what it asks of pictures.

A theme is a folder without logic. One of the studio's own, in `themes/` beside its content, comes before
one that is shipped. A theme may build on another: its styles follow the other's, and its templates
stand in for those of the same name.
"""

import re
from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path
from typing import Self

from pydantic import model_validator
from rcssmin import cssmin

from sitegen.check.shape import shape
from sitegen.load.nodes import read
from sitegen.load.tree import File, source_of
from sitegen.model.fields import Id, Percent, PositiveWhole, Shape, fault
from sitegen.model.labels import Labels
from sitegen.pictures.plan import Cut, Look
from sitegen.values.nearest import nearest
from sitegen.values.node import Map, place_at
from sitegen.values.problem import Problem, whole_file
from sitegen.values.source import Place

_PACKAGE = Path(__file__).parent
SHIPPED = (_PACKAGE / "shipped" / "themes", _PACKAGE.parent / "themes")
_WHY = "The couple's page is laid out by its theme."
_DEEPEST = 4
# Within a block, rcssmin takes the space before `:is(` for one of a declaration, and with it the descendant.
_DESCENDANT = re.compile(r"(?<=[\w)\]]) :(?=(?:is|not|where|has)\()")
# The skeleton, and the themes of the florist's own pages: none of them is a couple's page.
NOT_A_PAGE = {"common", "desk", "sheets", "labels", "shell"}


class Pictures(Shape):
    """Longest edges in pixels: of the WebP sizes, and of the one JPEG."""

    edges: tuple[PositiveWhole, ...] = (1600, 960, 480)
    jpeg: PositiveWhole = 960


class Opening(Shape):
    """The part of a photo that the opening shows where the same photo stands further down too."""

    left: Percent = Fraction(0)
    top: Percent = Fraction(0)
    right: Percent = Fraction(1)
    bottom: Percent = Fraction(1)

    @model_validator(mode="after")
    def _has_an_inside(self) -> Self:
        if not (self.left < self.right <= 1 and self.top < self.bottom <= 1):
            raise fault("nothing is left between these edges", "write left below right, top below bottom")
        return self


class Manifest(Shape):
    """theme.yaml."""

    name: Id
    base: Id | None = None
    styles: tuple[Id, ...] = ()
    pictures: Pictures = Pictures()
    opening: Opening = Opening()
    labels: Labels | None = None


@dataclass(frozen=True, slots=True)
class Theme:
    """A theme, read: template folders as they are searched, and all styles in the order they apply."""

    name: str
    templates: tuple[Path, ...]
    style: str
    look: Look
    opening: Cut
    labels: Labels | None = None


def themes_beside(content: Path) -> tuple[Path, ...]:
    """Say where themes are looked for: beside the content folder, then those that are shipped."""
    return (content.resolve().parent / "themes", *SHIPPED)


def find_theme(
    name: str, roots: Iterable[Path] = SHIPPED, asked: Place | None = None
) -> tuple[Theme | None, list[Problem]]:
    """Read the theme *name* from the first of *roots* that has it; *asked* is where its name was written."""
    roots = tuple(roots)
    if asked is not None and name in NOT_A_PAGE:
        return None, [_unknown(name, roots, asked)]
    chain, problems = _chain(name, roots, asked)
    if problems:
        return None, problems
    first = chain[0][1]
    styles, problems = _styles(chain)
    opening = first.opening
    theme = Theme(
        name=first.name,
        templates=tuple(folder / "templates" for folder, _ in chain),
        style=smaller(styles),
        look=Look(first.pictures.edges, first.pictures.jpeg),
        opening=Cut(opening.left, opening.top, opening.right, opening.bottom),
        labels=first.labels,
    )
    return (None if problems else theme), problems


def smaller(styles: str) -> str:
    """Leave out comments and spaces; every rule selects and says what it did."""
    return str(cssmin(_DESCENDANT.sub(" *:", styles))).replace(" *:", " :")


def _chain(
    name: str, roots: tuple[Path, ...], asked: Place | None
) -> tuple[list[tuple[Path, Manifest]], list[Problem]]:
    """Give the theme's folder and manifest, then those it builds on."""
    chain: list[tuple[Path, Manifest]] = []
    wanted: str | None = name
    while wanted is not None:
        folder = next((root / wanted for root in roots if (root / wanted / "theme.yaml").is_file()), None)
        if folder is None:
            return [], [_unknown(wanted, roots, asked)]
        manifest, node, problems = _manifest(folder)
        if manifest is None or problems:
            return [], problems
        chain.append((folder, manifest))
        wanted, asked = manifest.base, place_at(node, ("base",))
        if wanted is not None and len(chain) == _DEEPEST:
            what = f"themes build on each other {_DEEPEST} deep, and go on"
            return [], [Problem("theme-deep", asked, what, _WHY, "build on common, or on one that does")]
    return chain, []


def _manifest(folder: Path) -> tuple[Manifest | None, Map, list[Problem]]:
    shown = f"themes/{folder.name}/theme.yaml"
    nothing = Map({}, whole_file(shown))
    try:
        data = (folder / "theme.yaml").read_bytes()
    except OSError:
        what, fix = "this file cannot be opened", "give yourself the right to read it"
        return None, nothing, [Problem("theme-unreadable", whole_file(shown), what, _WHY, fix)]
    source, problems = source_of(File(shown, data))
    if source is None:
        return None, nothing, problems
    node, problems = read(source)
    if node is None:
        return None, nothing, problems
    manifest, more = shape(Manifest, node)
    return manifest, node, [*problems, *more]


def _unknown(name: str, roots: tuple[Path, ...], asked: Place | None) -> Problem:
    known = sorted({path.parent.name for root in roots for path in root.glob("*/theme.yaml")} - NOT_A_PAGE)
    near = nearest(name, known)
    fix = f'write "{near}"' if near else f"write one of {', '.join(known)}"
    place = asked or whole_file(f"themes/{name}")
    return Problem("theme-unknown", place, f'no theme is called "{name}"', _WHY, fix)


def _styles(chain: list[tuple[Path, Manifest]]) -> tuple[str, list[Problem]]:
    texts, problems = [], []
    for folder, manifest in reversed(chain):
        for name in manifest.styles:
            try:
                texts.append((folder / name).read_text("utf-8"))
            except (OSError, UnicodeDecodeError):
                what = f'the style "{name}" is not there or is not UTF-8 text'
                place = whole_file(f"themes/{folder.name}/theme.yaml")
                problems.append(Problem("theme-style", place, what, _WHY, "put it beside theme.yaml"))
    return "\n".join(texts), problems
