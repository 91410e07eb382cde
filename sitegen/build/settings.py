"""What a run is told: folders, the day, and which events."""

import datetime as dt
from dataclasses import dataclass
from pathlib import Path


@dataclass(frozen=True, slots=True)
class Settings:
    """Where content is read and output written, what day it is, and how pages are made.

    *shown* is the content folder as the florist named it; *events* are parts of
    folder names, none for all. *one_file* adds a page to mail to the named events.
    """

    content: Path
    out: Path
    today: dt.date
    shown: str
    events: tuple[str, ...] = ()
    one_file: bool = False
    quick: bool = False

    @property
    def home(self) -> Path:
        """Where keys, cache and state are kept: beside the content folder."""
        return self.content.parent / ".sitegen"
