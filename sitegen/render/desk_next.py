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


def revision_said(revision: int | None, _: Words) -> str:
    """Say which revision the couple have."""
    return _("not sent") if revision is None else _("revision {n}", n=revision)


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


def approve_command(event: str, by_hand: int | None = None) -> str:
    """The command that freezes what was agreed; *by_hand*, of the revision that no reply answers."""
    how = "" if by_hand is None else f' --revision {by_hand} --why "…"'
    return f"sitegen approve {shlex.quote(event)}{how}"


def mail_command(event: str) -> str:
    """The command that writes the proposal as one page to mail."""
    return f"sitegen build {shlex.quote(event)} --one-file"


def link_command(event: str) -> str:
    """The command that gives the private link, and messages to send with it."""
    return f"sitegen link {shlex.quote(event)}"


def build_command(event: str) -> str:
    """The command that makes an event's pages anew."""
    return f"sitegen build {shlex.quote(event)}"


def paid_entry(today: dt.date, amount: str) -> str:
    """What event.md holds of money that came in *today*, to copy into its `paid: […]`."""
    return f"{{date: {today.isoformat()}, amount: {amount}}}"


def next_step(
    stage: str,
    kind: str,
    event: str,
    _: Words,
    *,
    current: bool = True,
    paid: str = "",
    pending: int | None = None,
) -> tuple[str, str]:
    """Say what an event waits for and what to copy for it: by its stage, and once approved by its next date.

    *current* tells that the content is as it was sent; *paid* is what to write of a payment once it is there,
    and *pending* the revision of a change that the couple have before them.
    """
    if stage == "draft":
        return _("the first proposal"), send_command(event)
    if stage == "sent" and not current:
        return _("what changed, to send"), send_command(event)
    if stage == "sent":
        return _("their choices"), link_command(event)
    if stage == "answered":
        return _("your approval"), approve_command(event)
    if pending is not None:
        return _("their word on the change"), approve_command(event, pending)
    if kind == "payment":
        return _("their payment; once it is in, for paid: […] in event.md"), paid
    if kind == "changes":
        return _("their last changes"), build_command(event)
    if kind == "delivery":
        return _("the delivery"), order_command(event)
    return _("the order") if kind == "order" else _("the sheets, to print"), order_command(event)
