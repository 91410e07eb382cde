"""What the florist's own pages show, as finished text. They hold costs and are never published.

A template is given these types and nothing else. They share no type with the couple's view that could
carry a cost, so that nothing private can travel there by way of these.
"""

from dataclasses import dataclass

from sitegen.render.couple import Link
from sitegen.render.couple_piece import Moment

THEME = "desk"
INDEX_TEMPLATE = "desk.html"
EVENT_TEMPLATE = "desk-event.html"


@dataclass(frozen=True, slots=True)
class Stage:
    """How far an event has come: `mark` names the drawing, `word` says it."""

    mark: str
    word: str


@dataclass(frozen=True, slots=True)
class IndexRow:
    """An event on the list. `late` are lines that cannot wait; `command` is empty where nothing is next."""

    href: str
    names: str
    title: str
    day: Moment
    away: str
    stage: Stage
    total: str
    left: str
    share: str
    revision: str
    after_hands: str
    late: tuple[str, ...]
    next: str
    what_for: str
    command: str


@dataclass(frozen=True, slots=True)
class IndexGroup:
    """The events for which the same side has to act."""

    title: str
    rows: tuple[IndexRow, ...]


@dataclass(frozen=True, slots=True)
class IndexOrder:
    """An order for several events as one, by its file; `day` is that of the first."""

    day: Moment
    href: str
    title: str
    cost: str


@dataclass(frozen=True, slots=True)
class DeskIndex:
    """The list of all events. `begin` is the command to type where there is none at all.

    `keys` says when the keys were last backed up; `still_up` are pages that should come down.
    """

    language: str
    direction: str
    studio: str
    today: Moment
    count: str
    symbol: str
    groups: tuple[IndexGroup, ...]
    closed: IndexGroup | None
    begin: str
    keys: str
    still_up: "tuple[Todo, ...]"
    orders: tuple[IndexOrder, ...]


@dataclass(frozen=True, slots=True)
class Todo:
    """Something to do: until when, what and why, and the command for it. `late` marks what cannot wait."""

    when: str
    what: str
    why: str
    command: str
    late: bool = False


@dataclass(frozen=True, slots=True)
class Warned:
    """Something in the content that is worth a look: its first line, and what follows it."""

    head: str
    more: str


@dataclass(frozen=True, slots=True)
class Line:
    """A line of a sum; `kind` is `sum` for one that adds up those above it, `note` for a line beside them."""

    label: str
    amount: str
    kind: str = ""


@dataclass(frozen=True, slots=True)
class GroupShare:
    """What a group of pieces takes of the subtotal; `start` and `width` are percentages, as text."""

    name: str
    amount: str
    share: str
    start: str
    width: str


@dataclass(frozen=True, slots=True)
class Payment:
    """A payment and when it is due, or money that came in."""

    label: str
    when: str
    amount: str
    kind: str = ""


@dataclass(frozen=True, slots=True)
class Note:
    """A note to self, and what it is about; empty for the event as a whole."""

    about: str
    text: str


@dataclass(frozen=True, slots=True)
class Margin:
    """What one piece leaves: price less cost, labour counted as no cost.

    `bar` is the share from 0 to 100 as text; `short` says in words that it is below the target or the
    cost, and is empty where it is not.
    """

    each: str
    cost: str
    left: str
    share: str
    bar: str
    short: str


@dataclass(frozen=True, slots=True)
class Combination:
    """One combination of a piece's answers."""

    answers: str
    margin: Margin
    picked: bool


@dataclass(frozen=True, slots=True)
class PieceRow:
    """A piece as it is picked; `summary` is empty where it has no choices to fold out.

    `dealt` says how alike the pieces of a varied set are, and how nearly they cost the same.
    """

    id: str
    name: str
    picked: str
    quantity: str
    extra: str
    line: str
    margin: Margin
    summary: str
    short: str
    combinations: tuple[Combination, ...]
    dealt: str = ""


@dataclass(frozen=True, slots=True)
class Dated:
    """A day on which something is due or happens; `past` is true once it is over."""

    day: Moment
    what: str
    past: bool


@dataclass(frozen=True, slots=True)
class Season:
    """A stem's year: spans in which it is sold, as first month (from 0) and months; `at` is the event's."""

    name: str
    sold: tuple[tuple[int, int], ...]
    at: int
    said: str


@dataclass(frozen=True, slots=True)
class SupplierMessage:
    """What to write to a supplier. `summary` holds the sum, `text` does not; `list` is its CSV's address.

    `mail` is the target of a link to the supplier's address, and empty where none is known.
    """

    supplier: str
    summary: str
    mail: str
    text: str
    list: str


@dataclass(frozen=True, slots=True)
class SinceApproval:
    """What has moved since an approval, each with what it does to what is left, and what it comes to."""

    title: str
    moves: tuple[Line, ...]
    sums: tuple[Line, ...]
    closing: str


@dataclass(frozen=True, slots=True)
class Recorded:
    """A record in plain words; `lines` fold out under it."""

    day: Moment
    what: str
    lines: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Sketch:
    """A piece's sketch, small, with the address of its largest."""

    piece: str
    src: str
    large: str
    width: int
    height: int
    alt: str


@dataclass(frozen=True, slots=True)
class DeskEvent:
    """The florist's page of one event. `target` is the share to be left, from 0 to 100 as text, or empty.

    `unsent` says why the messages to suppliers are not to be sent yet.
    """

    language: str
    direction: str
    title: str
    names: str
    day: Moment
    away: str
    stage: Stage
    revision: str
    symbol: str
    links: tuple[Link, ...]
    todo: tuple[Todo, ...]
    warnings: tuple[Warned, ...]
    agreed: bool
    sums: tuple[Line, ...]
    shares: tuple[GroupShare, ...]
    left: tuple[Line, ...]
    payments: tuple[Payment, ...]
    since: SinceApproval | None
    notes: tuple[Note, ...]
    pieces: tuple[PieceRow, ...]
    sketches: tuple[Sketch, ...]
    target: str
    target_said: str
    seasons: tuple[Season, ...]
    dates: tuple[Dated, ...]
    messages: tuple[SupplierMessage, ...]
    unsent: str
    records: tuple[Recorded, ...]
