"""How far an event has come, and the command for what comes next."""

import datetime as dt
import re
import shlex
from collections.abc import Collection

from sitegen.render.desk import Stage
from sitegen.render.words import Words

_DATED = re.compile(r"\d{4}-\d\d-\d\d-(\w.*)", re.ASCII)


def stage_of(closed: str | None, day: dt.date, today: dt.date, _: Words, reached: str = "draft") -> Stage:
    """Say the stage of an event; closed by either side comes before past, and that before what was *reached*.

    *reached* is a stage of the records, which say past only of the day on which they were read.
    """
    if closed is not None:
        return Stage(closed, {"declined": _("declined"), "cancelled": _("cancelled")}[closed])
    if day < today:
        return Stage("past", _("past"))
    words = {"sent": _("sent"), "answered": _("answered"), "approved": _("approved")}
    return Stage(reached, words[reached]) if reached in words else Stage("draft", _("draft"))


def short_name(event: str, events: Collection[str]) -> str:
    """Give the part of a folder's name behind its date where only that folder has it, else the whole name."""
    found = _DATED.fullmatch(event)
    if found is None or "\n".join(events).lower().count(found[1].lower()) != 1:
        return event
    return found[1]


def order_command(event: str) -> str:
    """The command that writes the order, to print."""
    return f"sitegen order {shlex.quote(event)}"


def send_command(event: str) -> str:
    """The command that makes a revision, and the message that goes with it."""
    return f"sitegen send {shlex.quote(event)}"


def approve_command(event: str) -> str:
    """The command that freezes what was agreed."""
    return f"sitegen approve {shlex.quote(event)}"


def mail_command(event: str) -> str:
    """The command that writes the proposal as one page to mail."""
    return f"sitegen build {shlex.quote(event)} --one-file"


def next_step(kind: str, event: str, _: Words) -> tuple[str, str]:
    """Say what the next date of that *kind* asks of the florist, and the command for it."""
    if kind == "order":
        return _("the order"), order_command(event)
    if kind == "day":
        return _("the sheets, to print"), order_command(event)
    return _("the proposal, to mail"), mail_command(event)
