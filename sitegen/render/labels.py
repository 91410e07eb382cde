"""What sheets of labels are given, as finished text. No field holds a cost: they go with the pieces."""

from dataclasses import dataclass

from markupsafe import Markup

THEME = "labels"
TEMPLATE = "labels.html"


@dataclass(frozen=True, slots=True)
class Line:
    """One line of a label; `role` names what it is: stop, title, what, handling or small."""

    role: str
    text: str


@dataclass(frozen=True, slots=True)
class Label:
    """One label. `size` says how large its first line and the others are set, so that all of them fit."""

    lines: tuple[Line, ...]
    size: str


@dataclass(frozen=True, slots=True)
class Sheet:
    """The labels of one page, row by row, and the words that count it."""

    labels: tuple[Label, ...]
    count: str


@dataclass(frozen=True, slots=True)
class LabelPage:
    """All labels of a kind. `draft` is the word that each carries, empty once approved.

    `a4` and `letter` are the measures of a label and of the margins on these papers, as CSS.
    """

    language: str
    direction: str
    title: str
    kind: str
    columns: int
    rows: int
    draft: str
    lead: tuple[str, ...]
    foot: str
    a4: Markup
    letter: Markup
    sheets: tuple[Sheet, ...]
