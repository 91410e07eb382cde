"""What a couple were shown: all of a proposal that they can see, pay or choose, as it was on its day.

As with the couple's page, no type here has a field in which a cost, a supplier, a margin, a mark-up, a
budget or a note to self could travel. A recipe stands here as far as the studio shows it and no further.
"""

import datetime as dt
from dataclasses import dataclass
from fractions import Fraction
from typing import TypeAlias

from sitegen.choices.table import Table
from sitegen.values.length import Length

Stems: TypeAlias = tuple[tuple[str, Fraction | None], ...]
"""Ids of stems in the order of the recipe, with the amount in one piece; None where only names are shown."""

Goods: TypeAlias = tuple[tuple[str, Fraction | Length], ...]


@dataclass(frozen=True, slots=True)
class Named:
    """A stem or a good by its id: what it is called, a stem's colour, the cautions that are told of it."""

    id: str
    name: str
    colour: str = ""
    cautions: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Contact:
    """Who sends the proposal, and how to reach them."""

    studio: str
    name: str | None = None
    email: str | None = None
    phone: str | None = None
    web: str | None = None


@dataclass(frozen=True, slots=True)
class Spot:
    """A place of the event and its hours."""

    id: str
    name: str
    use: str | None = None
    date: dt.date | None = None
    access: dt.time | None = None
    ready: dt.time | None = None
    starts: dt.time | None = None
    ends: dt.time | None = None
    clear: dt.time | None = None


@dataclass(frozen=True, slots=True)
class Picture:
    """A photo of a piece; `digest` tells one from another of the same name, where that is known."""

    file: str
    kind: str
    alt: str | None = None
    credit: str | None = None
    digest: str = ""


@dataclass(frozen=True, slots=True)
class Answer:
    id: str
    label: str


@dataclass(frozen=True, slots=True)
class Choice:
    """A question with its answers; which is the usual one, the table says."""

    id: str
    ask: str
    answers: tuple[Answer, ...]


@dataclass(frozen=True, slots=True)
class Moves:
    """Where a piece stands after its first use, and in which vessel (a good's name)."""

    place: str
    spot: str | None = None
    at: dt.time | None = None
    vessel: str | None = None


@dataclass(frozen=True, slots=True)
class Piece:
    """A piece as it was shown; prices, counts and bounds are those of the table's piece at the same index.

    `recipe_of` says for each combination of answers, in the table's order, which of `recipes` it has, and
    `goods_of` the same of `goods`; `by_couple` tells which combinations the couple make themselves. `dealt`
    names what a varied set has alike in each, None where it is no set; `alike` and `versions` say what else
    was asked of its deal.
    """

    id: str
    title: str
    group: str
    words: str
    pictures: tuple[Picture, ...]
    choices: tuple[Choice, ...]
    recipes: tuple[Stems, ...]
    recipe_of: tuple[int, ...]
    goods: tuple[Goods, ...]
    goods_of: tuple[int, ...]
    by_couple: tuple[bool, ...]
    extra: int = 0
    place: str | None = None
    moves: Moves | None = None
    wearers: tuple[str, ...] = ()
    dealt: tuple[str, ...] | None = None
    cautions: tuple[str, ...] = ()
    alike: Fraction = Fraction(0)
    versions: int | None = None


@dataclass(frozen=True, slots=True)
class Due:
    """A payment's name and when it is due: a day, or words such as `approval`. Its amount is the table's."""

    label: str
    words: str
    day: dt.date | None = None


@dataclass(frozen=True, slots=True)
class Labels:
    """The words beside the table's numbers, one for each charge, rate and payment in its order."""

    charges: tuple[str, ...]
    discount: str | None
    taxes: tuple[str, ...]
    payments: tuple[Due, ...]


@dataclass(frozen=True, slots=True)
class Shown:
    """A whole proposal as the couple have it. Money is in smallest units of `currency`.

    `valid` counts days from the day of the revision; `closes` is the last day for changes; `least` is the
    total from which on the studio works, 0 where there is none.
    """

    language: str
    currency: str
    contact: Contact
    names: str
    date: dt.date
    spots: tuple[Spot, ...]
    note: str
    terms: str
    mind: tuple[str, ...]
    valid: int | None
    closes: dt.date | None
    least: int
    show_stems: str
    stems: tuple[Named, ...]
    goods: tuple[Named, ...]
    pieces: tuple[Piece, ...]
    labels: Labels
    table: Table
