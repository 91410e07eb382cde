"""What the couple are given on paper, as finished text: what was agreed, and what they make themselves.

As in `render.couple`, no type here has a field in which a cost, a supplier, a margin or a note to self could
travel. `Markup` is CSS for the page's margins, or Markdown that went through `render.prose`.
"""

from dataclasses import dataclass

from markupsafe import Markup


@dataclass(frozen=True, slots=True)
class Frame:
    """What stands around a sheet: `named` is its own name; `draft` is empty where it is approved.

    `event`, `sheet`, `foot`, `count`, `drafted` and `down` are CSS for the margins.
    """

    language: str
    direction: str
    title: str
    draft: str
    event: Markup
    sheet: Markup
    foot: Markup
    count: Markup
    drafted: Markup
    down: Markup


@dataclass(frozen=True, slots=True)
class AgreedPiece:
    """One line: what it is, where it goes afterwards, what was chosen, how many, and what they cost."""

    piece: str
    moves: str
    chosen: str
    quantity: str
    each: str
    in_all: str


@dataclass(frozen=True, slots=True)
class AgreedGroup:
    title: str
    pieces: tuple[AgreedPiece, ...]


@dataclass(frozen=True, slots=True)
class AgreedSum:
    """A line of the sums, or a payment and when it is due."""

    label: str
    detail: str
    amount: str


@dataclass(frozen=True, slots=True)
class AgreedHeads:
    """The heads of the table's columns, of the payments, and of the couple's notes."""

    piece: str
    chosen: str
    quantity: str
    each: str
    in_all: str
    total: str
    payments: str
    notes: str
    whole: str
    terms: str


@dataclass(frozen=True, slots=True)
class AgreedPage:
    """What is made for a couple. `warning` says so where nothing is agreed; no line to sign stands then."""

    frame: Frame
    title: str
    lead: str
    warning: str
    date: str
    places: str
    guests: tuple[str, str]
    heads: AgreedHeads
    groups: tuple[AgreedGroup, ...]
    without: str
    notes: tuple[tuple[str, str], ...]
    sums: tuple[AgreedSum, ...]
    total: str
    contained: tuple[AgreedSum, ...]
    payments: tuple[AgreedSum, ...]
    fixed: str
    signs: tuple[str, ...]
    terms: Markup


@dataclass(frozen=True, slots=True)
class When:
    """A day, and what to do on it."""

    day: str
    what: str


@dataclass(frozen=True, slots=True)
class Thing:
    """What lies in the box or stands in the bucket, for one piece and in all."""

    name: str
    one: str
    in_all: str


@dataclass(frozen=True, slots=True)
class Step:
    """One step of the making: the name of its drawing, what it is called, what to do."""

    drawing: str
    title: str
    text: str


@dataclass(frozen=True, slots=True)
class Section:
    """A heading, and the words under it."""

    title: str
    text: str


@dataclass(frozen=True, slots=True)
class MakePiece:
    """All that somebody who never did it needs to make one piece, and as many as there are.

    `heads` are those of the table: what, for one, in all; `note` and `notes` are cautions.
    """

    title: str
    lead: str
    when_title: str
    when: tuple[When, ...]
    box_title: str
    heads: tuple[str, str, str]
    things: tuple[Thing, ...]
    kitchen: Section
    note: str
    notes: tuple[str, ...]
    how: Section
    steps: tuple[Step, ...]
    after: tuple[Section, ...]


@dataclass(frozen=True, slots=True)
class MakePage:
    """What the couple make themselves. `warning` says that counts are not agreed yet."""

    frame: Frame
    warning: str
    pieces: tuple[MakePiece, ...]
