"""What a run is told: folders, the day, and which events."""

import datetime as dt
from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path


@dataclass(frozen=True, slots=True)
class Applied:
    """Picks at which to show one event's page: what fits a *budget*, or the *reply* of that record."""

    event: str
    budget: Fraction | None = None
    reply: int | None = None


@dataclass(frozen=True, slots=True)
class Settings:
    """Where content is read and output written, what day it is, and how pages are made.

    *shown* is the content folder as the florist named it; *events* are parts of
    folder names, none for all. *one_file* adds a page to mail to the named events, *together* an order for
    all of them as one. With *applied*, that event stands alone.
    """

    content: Path
    out: Path
    today: dt.date
    shown: str
    events: tuple[str, ...] = ()
    one_file: bool = False
    quick: bool = False
    together: bool = False
    applied: Applied | None = None

    @property
    def home(self) -> Path:
        """Where keys, cache and state are kept: beside the content folder."""
        return self.content.parent / ".sitegen"
