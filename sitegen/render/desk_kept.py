"""What the desk says of what lies outside the content: keys backed up or not, pages that are still up."""

import datetime as dt
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from sitegen.render.desk import Todo
from sitegen.render.desk_figures import Figures


@dataclass(frozen=True, slots=True)
class OrderedTogether:
    """An order for several events: the name of its files, the events' folders, and what it costs, printed."""

    name: str
    events: tuple[str, ...]
    cost: str


@dataclass(frozen=True, slots=True)
class Kept:
    """The day of the last backup of keys, how many keys are in none, and the events that are online.

    `orders` are those for several events, which lie beside the events' own.
    """

    backed_up: dt.date | None = None
    unsaved: int = 0
    online: frozenset[str] = frozenset()
    orders: tuple[OrderedTogether, ...] = ()


def keys_said(kept: Kept, figures: Figures) -> str:
    """Say when the keys were last backed up, or never; empty where there is no key that could be lost."""
    _ = figures.voice.words
    if kept.backed_up is None:
        if not kept.unsaved:
            return ""
        return _("The keys of the couples' links were never backed up: a lost key is a lost link.")
    said = _("Keys last backed up on {day}.", day=figures.moment(kept.backed_up).text)
    if not kept.unsaved:
        return said
    return f"{said} " + _.plural("{n} key is newer.", "{n} keys are newer.", kept.unsaved)


def still_up(kept: Kept, over: Iterable[tuple[str, str, str]], figures: Figures) -> Iterator[Todo]:
    """Propose to take down what is over and still online; *over* are events as id, name and short name."""
    _ = figures.voice.words
    for event, names, called in over:
        if event in kept.online:
            what = _("{names}: still online", names=names)
            why = _("The day is past, or it was declined; whoever has the link can still read it.")
            yield Todo("", what, why, f"sitegen withdraw {called}")
