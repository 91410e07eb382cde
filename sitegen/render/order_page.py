"""What the sheets of an order are given, as finished text. The studio's own: costs and suppliers are in it.

Every amount, date and count is already the text that is printed. `Markup` stands only where the text
was made safe for a style sheet.
"""

from dataclasses import dataclass

from markupsafe import Markup

from sitegen.render.order_card import Cards
from sitegen.render.order_day_page import DaysSheet, PackSheet, RunSheet
from sitegen.render.order_parts import Head, Name
from sitegen.render.order_split_page import Split


@dataclass(frozen=True, slots=True)
class BuyRow:
    """So many packs. `sold_as` are the supplier's words, `ours` is what we call it and how to take it."""

    packs: str
    holds: str
    sum: str
    sold_as: str
    ours: str


@dataclass(frozen=True, slots=True)
class BuyBlock:
    """What one supplier brings on one day. `passed` tells that its last day to order is over.

    Once an order was placed, `change` says what is to be done about it: added, cancelled, or nothing more.
    """

    change: str
    supplier: str
    day: str
    order_by: str
    after_due: str
    passed: bool
    ways: str
    comes: str
    packs_title: str
    holds_title: str
    rows: tuple[BuyRow, ...]
    foot: str


@dataclass(frozen=True, slots=True)
class Buying:
    """The buying list. No field holds a price: it goes with the driver."""

    head: Head
    lead: str
    placed: tuple[str, ...]
    notes: tuple[str, ...]
    cares: tuple[str, ...]
    blocks: tuple[BuyBlock, ...]


@dataclass(frozen=True, slots=True)
class Sum:
    label: str
    amount: str
    strong: bool = False


@dataclass(frozen=True, slots=True)
class Over:
    """A stem of which more is bought than is needed, and the pieces that use it."""

    stem: str
    over: str
    pieces: str


@dataclass(frozen=True, slots=True)
class CostRow:
    name: str
    packs: str
    each: str
    cost: str
    bought: str
    pulled: str
    over: str


@dataclass(frozen=True, slots=True)
class CostGroup:
    supplier: str
    terms: str
    sum: str
    rows: tuple[CostRow, ...]


@dataclass(frozen=True, slots=True)
class Cost:
    """What the order costs and what it leaves. Stays in the studio."""

    head: Head
    lead: str
    symbol: str
    notes: tuple[str, ...]
    order: tuple[Sum, ...]
    left: tuple[Sum, ...]
    over: tuple[Over, ...]
    groups: tuple[CostGroup, ...]


@dataclass(frozen=True, slots=True)
class GoodRow:
    name: str
    needed: str
    buy: str
    pieces: str


@dataclass(frozen=True, slots=True)
class Cell:
    """One stretch of a roll, in points of the bar's 516: a cut, or what is left (`rest`)."""

    x: str
    width: str
    middle: str
    text: str
    rest: bool = False


@dataclass(frozen=True, slots=True)
class CutRow:
    """Cuts of one length for one piece; `ticks` are the words beside each box."""

    count: str
    small: str
    piece: str
    ticks: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class RollView:
    """A roll, its bar, and its cuts from left to right. `id` names the bar's own pattern."""

    id: str
    title: str
    told: str
    cells: tuple[Cell, ...]
    cuts: tuple[CutRow, ...]


@dataclass(frozen=True, slots=True)
class GoodsSheet:
    head: Head
    lead: tuple[str, ...]
    cares: tuple[str, ...]
    rows: tuple[GoodRow, ...]
    rolls: tuple[RollView, ...]
    remarks: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class HireRow:
    out: str
    name: str
    under: str
    shelf: str
    where: str
    back: str
    replace: str


@dataclass(frozen=True, slots=True)
class Hire:
    head: Head
    lead: str
    symbol: str
    cares: tuple[str, ...]
    rows: tuple[HireRow, ...]
    out: str
    back: str


@dataclass(frozen=True, slots=True)
class PullRow:
    count: str
    name: Name
    each: str


@dataclass(frozen=True, slots=True)
class PullBlock:
    """What to pull for one vase, or for each of several (`boxes` are their numbers, to tick)."""

    title: str
    times: str
    together: str
    meta: str
    rows: tuple[PullRow, ...]
    sum: str
    sum_label: str
    boxes: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class PullSheet:
    head: Head
    lead: str
    cares: tuple[str, ...]
    blocks: tuple[PullBlock, ...]


@dataclass(frozen=True, slots=True)
class OrderPage:
    """The whole appendix. A sheet with nothing on it is None. `count` is the CSS that says page x of y."""

    language: str
    direction: str
    title: str
    draft: bool
    event: Markup
    foot: Markup
    count: Markup
    made: str
    buying: Buying | None = None
    cost: Cost | None = None
    goods: GoodsSheet | None = None
    hire: Hire | None = None
    pull: PullSheet | None = None
    cards: Cards | None = None
    days: DaysSheet | None = None
    run: RunSheet | None = None
    pack: PackSheet | None = None
    split: Split | None = None

    @property
    def heads(self) -> tuple[Head, ...]:
        """The sheets that are there, in the order in which they are printed."""
        bought = (self.buying, self.cost, self.split, self.goods, self.hire)
        worked = (self.pull, self.cards, self.days, self.run, self.pack)
        return tuple(sheet.head for sheet in (*bought, *worked) if sheet)
