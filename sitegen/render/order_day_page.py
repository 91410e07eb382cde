"""What the sheets of the days are given, as finished text: preparation, run sheet, packing list.

Places in pictures are texts in units of a drawing that is 516 wide, a unit a point at the width of the text.
"""

from dataclasses import dataclass

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
