"""What the build cards are given, as finished text: how to make one of a piece. No field holds a price."""

from dataclasses import dataclass

from sitegen.render.order_parts import Head, Name


@dataclass(frozen=True, slots=True)
class CardPicture:
    """The piece's picture among those of the couple's page: its address from the sheet, and what it is."""

    src: str
    alt: str
    caption: str


@dataclass(frozen=True, slots=True)
class Fact:
    """One line of how it is built."""

    label: str
    text: str


@dataclass(frozen=True, slots=True)
class CardStem:
    """So many of a stem for one piece."""

    count: str
    name: Name


@dataclass(frozen=True, slots=True)
class Dealt:
    """A stem and its count in each copy of a set; `same` where the set keeps it alike in all."""

    name: str
    counts: tuple[str, ...]
    same: bool


@dataclass(frozen=True, slots=True)
class Matrix:
    """A set in which no two need be the same: stems down, copies across."""

    copies: tuple[str, ...]
    rows: tuple[Dealt, ...]


@dataclass(frozen=True, slots=True)
class Card:
    """One piece. `size` is large, small or whole: how large it is set, and whether it takes a page alone."""

    title: str
    picture: CardPicture | None
    make: str
    first: str
    cut: str
    facts: tuple[Fact, ...]
    stems: tuple[CardStem, ...]
    matrix: Matrix | None
    cares: tuple[str, ...]
    foot: str
    place: str
    size: str = "small"


@dataclass(frozen=True, slots=True)
class Cards:
    """The build cards by pages: two to a page, or one that needs it all."""

    head: Head
    lead: str
    pages: tuple[tuple[Card, ...], ...]
