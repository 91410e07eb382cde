"""What is searched in, what is wanted of it, and what was reached."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from sitegen.choices.table import Table
from sitegen.choices.totals import total_of
from sitegen.fit.straight import Span
from sitegen.fit.ways import Way


@dataclass(frozen=True, slots=True)
class Setting:
    """The table, the charges that are chosen, and the ways of each piece that may be taken."""

    table: Table
    charges: frozenset[int]
    ways: tuple[tuple[Way, ...], ...]

    @property
    def span(self) -> Span:
        """From the lowest subtotal to the highest."""
        lines = [[way.line for way in ways] for ways in self.ways]
        return Span(sum(map(min, lines)), sum(map(max, lines)))


@dataclass(frozen=True, slots=True)
class Reached:
    """A way of each piece, and what they come to exactly."""

    ways: tuple[Way, ...]
    total: int

    @property
    def lost(self) -> int:
        return sum(way.lost for way in self.ways)

    @property
    def changes(self) -> int:
        return sum(way.changes for way in self.ways)

    @property
    def subtotal(self) -> int:
        return sum(way.line for way in self.ways)


def reached(setting: Setting, ways: Sequence[Way]) -> Reached:
    """Give what *ways* come to."""
    lines = tuple(way.line for way in ways)
    return Reached(tuple(ways), total_of(setting.table, lines, setting.charges))


@dataclass(frozen=True, slots=True)
class Ask:
    """What is wanted most: to lose the least and then to change the fewest; to be dearest; to be cheapest.

    Within a *budget*, losing no more than *lost*, with no more than so many *changes*; None is no limit.
    """

    wanted: Literal["least lost", "dearest", "cheapest"]
    budget: int | None = None
    lost: int | None = None
    changes: int | None = None

    def key(self, of: Reached, total: int) -> tuple[int, ...]:
        """What is wanted of something with that *total*, the lower the better."""
        if self.wanted == "least lost":
            return of.lost, of.changes
        return (-total,) if self.wanted == "dearest" else (total,)

    def allows(self, of: Reached) -> bool:
        """Tell whether *of* keeps within the budget; the program holds the other limits."""
        return self.budget is None or of.total <= self.budget
