"""`sitegen order --placed`: records what was bought, so that afterwards only changes are ordered."""

import argparse
import shlex
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from sitegen.build.event import Worked
from sitegen.build.quick import Survey
from sitegen.cli.exits import OUTSIDE, USAGE, Stop, say
from sitegen.cli.recording import event_named, journal_of, worked_out
from sitegen.order.placed import Placed
from sitegen.order.placing import placed_now
from sitegen.order.row import Row
from sitegen.records.append import Overtaken, append
from sitegen.records.bought import placings
from sitegen.records.journal import Journal


@dataclass(frozen=True, slots=True)
class Recorded:
    """What was recorded of an event: the record's name, None where there was nothing to record."""

    event: str
    record: str | None
    bought: int
    cancelled: int


def place(options: argparse.Namespace, survey: Survey) -> list[Recorded]:
    """Record that the orders of the named events were placed as they stand today. Raises `Stop`.

    Each is looked at before the first is recorded.
    """
    events = list(dict.fromkeys(event_named(survey, name) for name in options.events))
    asked = [_asked(survey, event) for event in events]
    made = []
    for event, (journal, worked) in zip(events, asked, strict=True):
        body = placed_now(worked.order)
        one = _record(survey, journal, body) if body else None
        made.append(_recorded(event, one, body))
        if not options.json:
            _say(made[-1], worked, one or journal)
    return made


def plain_of(made: Sequence[Recorded]) -> list[dict[str, object]]:
    """Say for machines what was recorded: packs bought and cancelled, by event."""
    return [
        {"event": one.event, "record": one.record, "bought": one.bought, "cancelled": one.cancelled}
        for one in made
    ]


def _asked(survey: Survey, event: str) -> tuple[Journal, Worked]:
    """The journal is read before the event is: what another run adds between the two is found out."""
    journal = journal_of(survey, event)
    worked = worked_out(survey, event)
    closed, name = worked.folder.event.closed, shlex.quote(event)
    if closed is not None:
        raise Stop(f"{event} is {closed}, so nothing was recorded; take closed out of event.md first", USAGE)
    if worked.stand.approved is None:
        raise Stop(
            f"{event} is not approved, so nothing was recorded: only what was agreed is bought. "
            f"Next  sitegen approve {name}, then sitegen order {name} --placed",
            USAGE,
        )
    return journal, worked


def _record(survey: Survey, journal: Journal, body: Placed) -> Journal:
    try:
        return append(journal, "placed", survey.settings.today, body)
    except Overtaken as overtaken:
        raise Stop(f"{overtaken}; nothing was recorded, look at it and run this again", OUTSIDE) from None


def _recorded(event: str, journal: Journal | None, body: Placed | None) -> Recorded:
    if journal is None or body is None:
        return Recorded(event, None, 0, 0)
    bought, cancelled = (sum(one.packs for one in many) for many in (body.rows, body.cancelled))
    return Recorded(event, journal.records[-1].name, bought, cancelled)


def _say(made: Recorded, worked: Worked, journal: Journal) -> None:
    if made.record is None:
        before = placings(journal.records)
        since = (
            f"Nothing has changed since the order of {before[-1].day}"
            if before
            else "There is nothing to buy"
        )
        say(f"{since}: nothing was recorded for {made.event}.")
        return
    money, order = worked.priced.shared.currency, worked.order
    said = [f"{_counted(order.added)} bought"] if order.added else []
    said += [f"{_counted(order.before.cancelled)} cancelled"] if order.before.cancelled else []
    cost = f"the order comes to {money.code} {money.text(money.units(order.cost))}"
    say(f"Recorded {journal.shown}/{made.record}: {' and '.join(said)}; {cost}.")


def _counted(rows: Iterable[Row]) -> str:
    of = {"stem": 0, "good": 0}
    for row in rows:
        of[row.thing.kind] += row.bought.packs
    names = (("stem", "bunch", "bunches"), ("good", "pack", "packs"))
    return " and ".join(
        f"{of[kind]} {one if of[kind] == 1 else many}" for kind, one, many in names if of[kind]
    )
