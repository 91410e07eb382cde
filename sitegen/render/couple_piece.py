"""What the couple may see of one piece, as finished text. See `render.couple` for what may stand here."""

from dataclasses import dataclass

from markupsafe import Markup


@dataclass(frozen=True, slots=True)
class Moment:
    """A date or a time: `iso` for machines, `text` for people."""

    iso: str
    text: str


@dataclass(frozen=True, slots=True)
class Shot:
    """One picture as the page shows it.

    `src` is what every browser can show, `webp` a srcset (empty where there is none), `large` the
    largest rendition to open on its own (empty where the page carries its pictures inside). `sealed` is
    the place of the same picture among what is sealed, for a page that addresses it by that alone. A `drawn`
    one is a sketch: it is shown whole, on its own paper.
    """

    src: str
    webp: str
    width: int
    height: int
    large: str
    alt: str
    caption: str = ""
    sealed: str = ""
    drawn: bool = False


@dataclass(frozen=True, slots=True)
class Answer:
    """One row of a choice; `changes` says what it does to stems and ribbons.

    `difference` and `for_all` are empty for the suggested answer, and `for_all` where there is one piece.
    `sketch` is of the piece with this answer, where there is one.
    """

    key: str
    label: str
    changes: str
    difference: str
    for_all: str
    leads_to: str
    suggested: bool
    sketch: Shot | None = None


@dataclass(frozen=True, slots=True)
class Choice:
    """A question and its answers, in the order they were written; *caption* is for the answers' sketches."""

    key: str
    ask: str
    answers: tuple[Answer, ...]
    caption: str = ""


@dataclass(frozen=True, slots=True)
class Count:
    """How many the couple may have: numbers for the input, words beside it."""

    usual: int
    least: int
    most: int
    bounds: str


@dataclass(frozen=True, slots=True)
class Tick:
    """Something to leave out or to add, with what it changes."""

    label: str
    difference: str
    leads_to: str


@dataclass(frozen=True, slots=True)
class Stem:
    """A line of the recipe. With `together` set, it stands for both counts."""

    colour: str
    name: str
    each: str
    in_all: str
    together: str = ""


@dataclass(frozen=True, slots=True)
class Contents:
    """What is in a piece. `counted` is false where the studio shows names only.

    `notes` say what stands in for what since the prices were agreed, and why.
    """

    summary: str
    counted: bool
    several: bool
    stems: tuple[Stem, ...]
    notes: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class OneOfSet:
    """One piece of a varied set, several that are alike, or all: whose, and what is in it."""

    name: str
    stems: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class SetApart:
    """What is in each piece of a varied set. `note` says for which choices that holds, empty once agreed."""

    summary: str
    note: str
    ones: tuple[OneOfSet, ...]


@dataclass(frozen=True, slots=True)
class Moves:
    """Where a piece goes after its first use."""

    where: str
    when: Moment | None
    detail: str


@dataclass(frozen=True, slots=True)
class Piece:
    """One piece of the proposal. `key` names it, and all that belongs to it, within the page.

    `caption` holds for all its pictures, `set_caption` for those of a varied set's pieces in `set`; `layout`
    says how its own lie: `none`, `tall`, `wide`, `pair` or `many`.
    `price_each` is empty where there is one piece; with `changeable` there may be more.
    """

    key: str
    title: str
    layout: str
    shots: tuple[Shot, ...]
    caption: str
    price_each: str
    price: str
    changeable: bool
    html: Markup
    choices: tuple[Choice, ...]
    count: Count | None
    leave_out: Tick | None
    contents: Contents | None
    set_apart: SetApart | None
    cautions: tuple[str, ...]
    remarks: tuple[str, ...]
    moves: tuple[Moves, ...]
    set: tuple[Shot, ...] = ()
    set_caption: str = ""
