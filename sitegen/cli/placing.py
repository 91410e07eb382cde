"""`sitegen order --placed`: records what was bought, so that afterwards only changes are ordered."""

import argparse
import datetime as dt
import shlex
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from sitegen.build.event import Worked
from sitegen.build.joint import in_order, name_of, refusal
from sitegen.build.quick import Survey
from sitegen.check.shared import check_shared
from sitegen.cli.exits import OUTSIDE, USAGE, Stop, say
from sitegen.cli.recording import ask, event_named, journal_of, worked_out
from sitegen.order.placed import Placed
from sitegen.order.placing import placed_now, placed_together
from sitegen.order.together import together
from sitegen.records.append import Overtaken, append
from sitegen.records.bought import ever_placed, placings
from sitegen.records.journal import Journal
from sitegen.values.number import total


@dataclass(frozen=True, slots=True)
class Recorded:
    """What was recorded of an event: the record's name, None where there was nothing to record."""

    event: str
    record: str | None
    bought: int
    cancelled: int


@dataclass(frozen=True, slots=True)
class _Asked:
    """An event as it was looked at, with the journal that may be added to."""

    journal: Journal
    worked: Worked

    @property
    def event(self) -> str:
        return self.worked.folder.id


_Bodies = Mapping[str, tuple[dt.date, Placed | None]]
"""What to record of each event, and on which day."""


def named_together(options: argparse.Namespace, survey: Survey) -> str:
    """Name the order of the named events bought for as one. Raises `Stop` where they cannot be."""
    events = _named(options, survey)
    if len(events) < 2:
        raise Stop("name two events or more to buy for them together", USAGE)
    return name_of(_refused([worked_out(survey, event) for event in events], survey.settings.today))


def place(options: argparse.Namespace, survey: Survey) -> list[Recorded]:
    """Record that the orders of the named events were placed as they stand today. Raises `Stop`.

    All are looked at, and the question is answered, before the first is recorded. Together, each is recorded
    with its part; a run that was killed between two of them is brought to its end by the next.
    """
    today = survey.settings.today
    asked = [_asked(survey, event) for event in _named(options, survey)]
    bodies: _Bodies = {one.event: (today, placed_now(one.worked.order)) for one in asked}
    if options.together:
        bodies = _unfinished(asked) or _parts(asked, survey)
    _ask(options, asked, bodies)
    made = []
    for one in asked:
        day, body = bodies.get(one.event, (today, None))
        after = _record(one.journal, day, body) if body else one.journal
        made.append(_recorded(one.event, after, body))
        if not options.json:
            _say(made[-1], one, after, body)
    return made


def _ask(options: argparse.Namespace, asked: Sequence[_Asked], bodies: _Bodies) -> None:
    """Say what would be recorded, and ask; where there is nothing, neither.

    Where nobody can answer, `--placed` is the word itself: it can be undone.
    """
    told = [(one, body) for one in asked if (body := bodies.get(one.event, (None, None))[1])]
    if told and not options.yes and not options.json:
        for one, body in told:
            say(f"{one.event}: {_told(one, body)}.")
        if ask("Was it placed like this?") is False:
            raise Stop("nothing was recorded", USAGE)


def plain_of(made: Sequence[Recorded]) -> list[dict[str, object]]:
    """Say for machines what was recorded: packs bought and cancelled, by event."""
    return [
        {"event": one.event, "record": one.record, "bought": one.bought, "cancelled": one.cancelled}
        for one in made
    ]


def _named(options: argparse.Namespace, survey: Survey) -> list[str]:
    return list(dict.fromkeys(event_named(survey, name) for name in options.events))


def _refused(every: Iterable[Worked], today: dt.date) -> tuple[Worked, ...]:
    ordered = in_order(every)
    why = refusal(ordered, today)
    if why is not None:
        raise Stop(why, USAGE)
    return ordered


def _asked(survey: Survey, event: str) -> _Asked:
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
    return _Asked(journal, worked)


def _parts(asked: Sequence[_Asked], survey: Survey) -> _Bodies:
    """Share what is bought for all of them as one out to each."""
    today, shared = survey.settings.today, check_shared(survey.tree).shared
    every = _refused((one.worked for one in asked), today)
    if shared is None:
        return {}
    parts = placed_together(together([one.order for one in every], shared, today))
    return {every[i].folder.id: (today, body) for i, body in parts.items()}


def _unfinished(asked: Sequence[_Asked]) -> _Bodies:
    """Find what a record says of another event that is not there: a run was killed between the two.

    What was there and was undone since is not brought back.
    """
    journals = {one.event: one.journal for one in asked}
    said = [
        (placing.day, other)
        for one in asked
        for placing in placings(one.journal.records)
        for other in placing.body.together
    ]
    return {
        other.event: (day, other.placed)
        for day, other in said
        if other.event in journals and not _has(journals[other.event], other.placed)
    }


def _has(journal: Journal, placed: Placed) -> bool:
    return any(replace(body, together=()) == placed for body in ever_placed(journal.records))


def _record(journal: Journal, day: dt.date, body: Placed) -> Journal:
    try:
        return append(journal, "placed", day, body)
    except Overtaken as overtaken:
        raise Stop(f"{overtaken}; nothing was recorded, look at it and run this again", OUTSIDE) from None


def _recorded(event: str, journal: Journal, body: Placed | None) -> Recorded:
    if body is None:
        return Recorded(event, None, 0, 0)
    bought, cancelled = (sum(one.packs for one in many) for many in (body.rows, body.cancelled))
    return Recorded(event, journal.records[-1].name, bought, cancelled)


def _say(made: Recorded, asked: _Asked, journal: Journal, body: Placed | None) -> None:
    before = placings(asked.journal.records)
    if body is None:
        since = "There is nothing to buy"
        if before:
            since = f"Nothing has changed since the order of {before[-1].day}"
        say(f"{since}: nothing was recorded for {made.event}.")
        return
    say(f"Recorded {journal.shown}/{made.record}: {_told(asked, body)}.")


def _told(asked: _Asked, body: Placed) -> str:
    money, before = asked.worked.priced.shared.currency, placings(asked.journal.records)
    kinds = [before[gone.placing].body.rows[gone.row].kind for gone in body.cancelled]
    cancelled = _counted(zip(kinds, (gone.packs for gone in body.cancelled), strict=True))
    bought = _counted((row.kind, row.packs) for row in body.rows if not row.bought_for)
    taken = _counted((row.kind, row.packs) for row in body.rows if row.bought_for)
    part = "its part of " if body.together else ""
    cost = total((*(row.cost for row in body.rows if not row.bought_for), *(fee.cost for fee in body.fees)))
    with_deliveries = f"with deliveries {money.code} {money.text(money.units(cost))}"
    said = [f"{part}{bought} bought, {with_deliveries}"] if bought else []
    said += [f"a part of {taken} taken over from what was placed before"] if taken else []
    said += [f"{cancelled} cancelled"] if cancelled else []
    said += [f"a part passed on to {', '.join(dict.fromkeys(one.event for one in body.given))}"] * bool(
        body.given
    )
    return "; ".join(said)


def _counted(packs: Iterable[tuple[str, int]]) -> str:
    of = {"stem": 0, "good": 0}
    for kind, n in packs:
        of[kind] += n
    names = (("stem", "bunch", "bunches"), ("good", "pack", "packs"))
    return " and ".join(
        f"{of[kind]} {one if of[kind] == 1 else many}" for kind, one, many in names if of[kind]
    )
