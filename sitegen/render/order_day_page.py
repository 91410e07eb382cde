"""What the sheets of the days are given, as finished text: preparation, run sheet, packing list.

Places in pictures are texts in units of a drawing that is 516 wide, a unit a point at the width of the text.
"""

from dataclasses import dataclass
from typing import Literal

from sitegen.render.order_parts import Head


@dataclass(frozen=True, slots=True)
class Fill:
    """A stretch of a bar or lane; `kind` names its pattern."""

    x: str
    width: str
    kind: str


@dataclass(frozen=True, slots=True)
class Bar:
    """One day's load: its name at *y*, its fills, and the sum at its end."""

    label: str
    y: int
    fills: tuple[Fill, ...]
    total: str
    end: str


@dataclass(frozen=True, slots=True)
class Tick:
    x: str
    label: str


@dataclass(frozen=True, slots=True)
class Key:
    """A fill and what it means, at *x*."""

    kind: str
    label: str
    x: str


@dataclass(frozen=True, slots=True)
class LoadChart:
    """Hours a day against what the crew has. `told` says the same in words."""

    height: int
    foot: int
    bars: tuple[Bar, ...]
    ticks: tuple[Tick, ...]
    line: Tick | None
    key: tuple[Key, ...]
    key_y: int
    told: str


@dataclass(frozen=True, slots=True)
class DayRow:
    """Something to do: what it is, more about it, care in small print, and its minutes."""

    what: str
    more: str = ""
    care: str = ""
    minutes: str = ""


@dataclass(frozen=True, slots=True)
class DayBlock:
    """A day, or a part of it: `under` says how long before the event, `load` how full it is."""

    day: str
    under: str
    load: str
    rows: tuple[DayRow, ...]


@dataclass(frozen=True, slots=True)
class DaysSheet:
    head: Head
    lead: tuple[str, ...]
    chart: LoadChart | None
    blocks: tuple[DayBlock, ...]
    cooler: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class LaneFill:
    """A stretch of a lane, with its label where that fits."""

    x: str
    width: str
    kind: str
    label: str
    middle: str


@dataclass(frozen=True, slots=True)
class Lane:
    name: str
    y: int
    foot: int
    fills: tuple[LaneFill, ...]


@dataclass(frozen=True, slots=True)
class Arrow:
    """A move from one lane to another, with its hour."""

    x: str
    y: int
    to_x: str
    to_y: int
    label: str
    label_x: str
    label_y: int


@dataclass(frozen=True, slots=True)
class Lanes:
    """The places of a day side by side. `told` says the same in words."""

    height: int
    foot: int
    ticks: tuple[Tick, ...]
    lanes: tuple[Lane, ...]
    arrows: tuple[Arrow, ...]
    key: tuple[Key, ...]
    key_y: int
    told: str


@dataclass(frozen=True, slots=True)
class RunRow:
    """A line of the run sheet; a `strong` one is an hour of the place, with nothing to tick."""

    start: str
    what: str
    more: str
    minutes: str
    hands: str
    strong: bool


@dataclass(frozen=True, slots=True)
class RunBlock:
    """One place: how to get in, its rules, how long a room change has, what to mind, and its lines."""

    title: str
    meta: str
    rules: str
    change: str
    cares: tuple[str, ...]
    rows: tuple[RunRow, ...]


@dataclass(frozen=True, slots=True)
class RunSheet:
    head: Head
    title: str
    lead: tuple[str, ...]
    lanes: Lanes | None
    blocks: tuple[RunBlock, ...]


@dataclass(frozen=True, slots=True)
class PackRow:
    """So much of something. `home` says what stands in the column for the way home.

    `tick` is a box to tick, `stays` the word; a row of `home` is only for the way home.
    """

    count: str
    what: str
    more: str
    home: Literal["tick", "stays", "home"]


@dataclass(frozen=True, slots=True)
class PackGroup:
    title: str
    rows: tuple[PackRow, ...]


@dataclass(frozen=True, slots=True)
class PackStop:
    title: str
    groups: tuple[PackGroup, ...]


@dataclass(frozen=True, slots=True)
class PackSheet:
    head: Head
    lead: tuple[str, ...]
    cares: tuple[str, ...]
    stops: tuple[PackStop, ...]
