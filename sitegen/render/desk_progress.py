"""How far an event has come, as its records tell, and what has moved since it was approved. Private."""

import datetime as dt
from dataclasses import dataclass

from sitegen.records.journal import Record


@dataclass(frozen=True, slots=True)
class Move:
    """Something that is no longer as it was approved, and what it does to what is left, in smallest units."""

    name: str
    what: str
    left: int


@dataclass(frozen=True, slots=True)
class Moved:
    """All that has moved since the approval of a *day*, and what is left after materials then and now."""

    day: dt.date
    moves: tuple[Move, ...]
    was: int
    now: int


@dataclass(frozen=True, slots=True)
class Progress:
    """How far an event has come.

    *revision* is the last one sent, *current* tells that the content is still as it was sent, and *held* is
    the last day of its prices. *approved* is the day of an approval that holds, and *settled* tells that
    nothing newer was sent since.
    """

    stage: str = "draft"
    revision: int | None = None
    current: bool = True
    held: dt.date | None = None
    approved: dt.date | None = None
    settled: bool = False
    records: tuple[Record, ...] = ()
    moved: Moved | None = None

    @property
    def pending(self) -> bool:
        """Whether the couple have a newer proposal than the one that is approved."""
        return self.approved is not None and not self.settled


DRAFT = Progress()
