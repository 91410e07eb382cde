"""What a difference between two proposals is made of: only what a couple may see, money in smallest units."""

import datetime as dt
from dataclasses import dataclass
from fractions import Fraction
from typing import Generic, Literal, TypeVar

from sitegen.values.length import Length

T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class Step(Generic[T]):
    """What something was, and what it is now."""

    was: T
    now: T


@dataclass(frozen=True, slots=True)
class AmountChange:
    """A stem or good of one piece at what we suggest; None where it was not or is not there.

    `counted` is false where the studio shows names alone.
    """

    name: str
    was: Fraction | Length | None
    now: Fraction | Length | None
    counted: bool = True


@dataclass(frozen=True, slots=True)
class AnswerChange:
    """An answer that is new, gone, suggested now, or has another difference in price to the suggested one."""

    kind: Literal["new", "gone", "suggested", "priced"]
    label: str
    step: Step[int] | None = None


Facet = Literal[
    "words", "pictures", "group", "place", "moves", "spares", "wearers", "set", "optional", "required",
    "by-couple", "by-studio", "cautions", "rest",
]  # fmt: skip
"""Something else about a piece that changed; `rest` where nothing that has a word of its own did."""


@dataclass(frozen=True, slots=True)
class PieceChange:
    """What changed in one piece, at what we suggest.

    `at` is its index in the new proposal, None where it is gone. `line` is what all of it cost and cost now.
    """

    id: str
    title: str
    kind: Literal["new", "gone", "changed"]
    at: int | None
    line: Step[int]
    called: Step[str] | None = None
    quantity: Step[int] | None = None
    bounds: Step[tuple[int, int]] | None = None
    each: Step[int] | None = None
    stems: tuple[AmountChange, ...] = ()
    goods: tuple[AmountChange, ...] = ()
    asked: tuple[str, ...] = ()
    unasked: tuple[str, ...] = ()
    answers: tuple[AnswerChange, ...] = ()
    facets: tuple[Facet, ...] = ()


@dataclass(frozen=True, slots=True)
class SumChange:
    """A charge, the discount (below zero) or a tax at what we suggest; None where it is not asked for.

    `terms` tells that its own terms changed, and not the pieces alone. `contained` marks a tax that the
    prices hold already, so that the total does not move with it.
    """

    kind: Literal["charge", "discount", "tax"]
    label: str
    was: int | None
    now: int | None
    terms: bool
    contained: bool = False


EventFacet = Literal[
    "names", "date", "places", "order", "note", "terms", "contact", "minded", "payments", "shown", "rest"
]
"""Something about the whole proposal that changed."""


@dataclass(frozen=True, slots=True)
class Difference:
    """All that a couple can see or pay and that is not as it was; `total` is at what we suggest."""

    pieces: tuple[PieceChange, ...]
    sums: tuple[SumChange, ...]
    total: Step[int]
    facets: tuple[EventFacet, ...]
    names: Step[str]
    valid: Step[int | None] | None
    closes: Step[dt.date | None] | None
    least: Step[int] | None

    @property
    def empty(self) -> bool:
        told = (self.pieces, self.sums, self.facets, self.valid, self.closes, self.least)
        return not any(told)
