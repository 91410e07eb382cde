"""Everything that was read, put together: the shared files, and each event's folder.

Each part keeps its node, outside equality, so that a later stage can name the
place of any figure: `place_at(piece.node, ("recipe", "olive"))`.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path

from sitegen.model.catalogue import Good, InHand, Stem, Supplier
from sitegen.model.event import Event
from sitegen.model.piece import Piece
from sitegen.model.terms import Charge, Crew, Discount, Payment, Studio, Tax
from sitegen.values.money import Currency
from sitegen.values.node import Map
from sitegen.values.source import Place


@dataclass(frozen=True, slots=True)
class Words:
    """Markdown of an author, and where it stands."""

    text: str
    place: Place = field(compare=False)


@dataclass(frozen=True, slots=True)
class Nodes:
    """The shared files as placed nodes."""

    studio: Map
    stems: Map
    goods: Map
    suppliers: Map


@dataclass(frozen=True, slots=True)
class Shared:
    """What all events share: the studio with its terms, and the catalogue."""

    studio: Studio
    currency: Currency
    terms: Words
    stems: Mapping[str, Stem]
    goods: Mapping[str, Good]
    suppliers: Mapping[str, Supplier]
    stock: Mapping[str, InHand]
    nodes: Nodes = field(compare=False)


@dataclass(frozen=True, slots=True)
class Bounds:
    """How many pieces as we suggest, and between which numbers the couple may choose."""

    usual: int
    least: int
    most: int

    @property
    def fixed(self) -> bool:
        return self.least == self.most


@dataclass(frozen=True, slots=True)
class PieceFile:
    """A piece, its words, and how many of it the event's counts make."""

    id: str
    piece: Piece
    quantity: Bounds
    words: Words
    node: Map = field(compare=False, repr=False)


@dataclass(frozen=True, slots=True)
class EventFolder:
    """An event with its pieces in the order of the proposal, and the photos it names (file name to path)."""

    id: str
    event: Event
    note: Words
    pieces: tuple[PieceFile, ...]
    photos: Mapping[str, Path]
    node: Map = field(compare=False, repr=False)


@dataclass(frozen=True, slots=True)
class Terms:
    """The terms that hold for one event: its own where it sets them, else the studio's."""

    charges: tuple[Charge, ...]
    discount: Discount | None
    tax: Tax
    payments: tuple[Payment, ...]
    crew: Crew | None


def terms_of(studio: Studio, event: Event) -> Terms:
    """An event's own `charges`, `discount`, `tax`, `payments` or `crew` replaces the studio's whole."""
    return Terms(
        charges=studio.charges if event.charges is None else event.charges,
        discount=studio.discount if event.discount is None else event.discount,
        tax=studio.tax if event.tax is None else event.tax,
        payments=studio.payments if event.payments is None else event.payments,
        crew=studio.crew if event.crew is None else event.crew,
    )
