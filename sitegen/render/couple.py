"""What the couple may see, as finished text: the only thing a couple's template is given.

No type here has a field in which a cost, a supplier, a margin, a mark-up, a budget or a note to
self could travel. Every amount, date and count is already the text that is printed; `html` fields
hold Markdown that went through `render.prose` and nothing else is ever marked safe.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from markupsafe import Markup

from sitegen.render.couple_piece import Moment, Piece, Shot, Tick
from sitegen.render.grounds import DayAndNight


@dataclass(frozen=True, slots=True)
class Name:
    """A stretch of the names in the title; `joins` marks the small word between two."""

    text: str
    joins: bool = False


@dataclass(frozen=True, slots=True)
class Spot:
    """A place in the opening, with the time the couple's own part of it starts."""

    use: str
    name: str
    starts: Moment | None


@dataclass(frozen=True, slots=True)
class Link:
    """A part of the page to jump to."""

    href: str
    text: str


@dataclass(frozen=True, slots=True)
class Note:
    """The florist's letter; `asides` are the sentences that every proposal says after it."""

    greeting: str
    html: Markup
    asides: tuple[str, ...]
    signed: str


@dataclass(frozen=True, slots=True)
class Swatch:
    """A colour of the band: `start` and `width` are percentages of the band, as text.

    On a `deep` one, white stands out more than black does; a `slim` one is narrow.
    """

    colour: str
    name: str
    carried_by: str
    percent: str
    start: str
    width: str
    deep: bool
    slim: bool


@dataclass(frozen=True, slots=True)
class Part:
    """A part of the day: the pieces that one group name holds together."""

    key: str
    title: str
    count: str
    sum: str
    pieces: tuple[Piece, ...]


@dataclass(frozen=True, slots=True)
class Hour:
    """A line of the day. `own` marks the couple's own moments, as against the studio's work."""

    at: Moment
    what: str
    where: str
    pieces: str
    own: bool


@dataclass(frozen=True, slots=True)
class Line:
    """A piece in the estimate; `times` is "5 × $118", or empty for one."""

    piece: str
    name: str
    times: str
    amount: str


@dataclass(frozen=True, slots=True)
class LineGroup:
    """The lines of one part of the day."""

    title: str
    lines: tuple[Line, ...]


@dataclass(frozen=True, slots=True)
class Sum:
    """A sum under the lines; `shown` is false for an optional charge that nobody has asked for yet."""

    key: str
    label: str
    detail: str
    amount: str
    shown: bool = True


@dataclass(frozen=True, slots=True)
class Extra:
    """An optional charge, and the row with which the couple may add it."""

    key: str
    tick: Tick


@dataclass(frozen=True, slots=True)
class Payment:
    """One payment, in the order they fall due. One without a `key` came in, and nothing changes it."""

    key: str
    label: str
    due: str
    amount: str


@dataclass(frozen=True, slots=True)
class Estimate:
    """The whole sum. `least` says from which total on the studio works, and shows where it is not reached.

    `still` is what is still due once money came in, or what came in above the total.
    """

    groups: tuple[LineGroup, ...]
    sums: tuple[Sum, ...]
    total: str
    contained: tuple[Sum, ...]
    least: str
    below_least: bool
    extras: tuple[Extra, ...]
    payments: tuple[Payment, ...]
    still: Sum | None


@dataclass(frozen=True, slots=True)
class ChangeRow:
    """One line of what changed: `href` leads to it in the page and is empty where nothing is left of it.

    `money` says what it does to the total, and is empty where it does nothing.
    """

    href: str
    name: str
    what: str
    money: str


@dataclass(frozen=True, slots=True)
class Since:
    """What changed since the last proposal; the money of its rows adds up to the change of the total.

    After an approval `agreed` says what still holds, with both totals; else it is empty.
    """

    title: str
    rows: tuple[ChangeRow, ...]
    total: str
    was: str
    agreed: str = ""


@dataclass(frozen=True, slots=True)
class Frozen:
    """Why nothing can be chosen: `says` what holds, `ask` whom to ask, `brief` is for the bar.

    With `agreed` the page shows what both sides agreed on, and suggests nothing any more.
    """

    says: str
    ask: str
    brief: str
    agreed: bool = False


@dataclass(frozen=True, slots=True)
class Held:
    """Until when prices hold: `says` until then, `past` after it; `over` where that is so at the build."""

    says: str
    past: str
    over: bool


@dataclass(frozen=True, slots=True)
class Contact:
    """Whom to ask; every field may be empty.

    `mail`, `dial` and `site` are the targets of links for `email`, `phone` and `web`.
    """

    name: str
    email: str
    mail: str
    phone: str
    dial: str
    web: str
    site: str


@dataclass(frozen=True, slots=True)
class CouplePage:
    """The couple's page, whole.

    `longest_word` counts the letters of the longest word of the names, so that the title can shrink to
    fit; `names_open` asks for more line height, for scripts that need it. `choosing` are the sentences on
    what becomes of the choices. `frozen` says why they are fixed, `closing` what the page is going to say
    when the last day for changes is over. `grounds` are mixed from the palette. `data` is the JSON for the
    page's script, already safe to stand in HTML.
    """

    language: str
    direction: str
    paper: str
    title: str
    studio: str
    contact: Contact
    names: tuple[Name, ...]
    longest_word: int
    grounds: tuple[DayAndNight, ...]
    names_open: bool
    date: Moment
    spots: tuple[Spot, ...]
    opening: Shot | None
    issued: tuple[str, ...]
    links: tuple[Link, ...]
    changed: Since | None
    note: Note
    colours: tuple[Swatch, ...]
    parts: tuple[Part, ...]
    hours: tuple[Hour, ...]
    estimate: Estimate
    choosing: tuple[str, ...]
    held: Held | None
    frozen: Frozen | None
    closing: Frozen | None
    terms: Markup
    data: Markup

    @property
    def tokens(self) -> Mapping[str, str]:
        """Give what a theme's style reads of this one page: custom properties by name."""
        found = {"--longest": str(self.longest_word)}
        for n, ground in enumerate(self.grounds, 1):
            for tail, one in (("", ground.day), ("-night", ground.night)):
                for name, value in (("ground", one.colour), ("ink", one.ink), ("soft", one.soft)):
                    found[f"--{name}-{n}{tail}"] = value
        return found
