"""A proposal with picks applied to it, to look at: what fits a budget, or a recorded reply."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from sitegen.build.event import Worked
from sitegen.build.settings import Applied
from sitegen.choices.picks import Picks
from sitegen.choices.suggesting import suggesting
from sitegen.choices.table import table
from sitegen.fit.fit import Fitted, best_fit, fit
from sitegen.fit.matters import matters_of
from sitegen.price.priced import PricedEvent
from sitegen.records.agreed import Approved, Reply, last_reply, standing
from sitegen.records.journal import Record
from sitegen.records.revisions import revisions
from sitegen.records.snapshot import snapshot
from sitegen.reply.carry import Lost, carry
from sitegen.values.node import place_at
from sitegen.values.problem import Problem


class NothingToApply(Exception):
    """What was asked for cannot be applied; the text says why."""


@dataclass(frozen=True, slots=True)
class Taken:
    """Picks for a content, and what they no longer have of what was picked."""

    content: PricedEvent
    picks: Picks
    lost: tuple[Lost, ...] = ()


@dataclass(frozen=True, slots=True)
class Start:
    """What a budget is met from: a *content* as suggested, with its optional *charges* that are wanted.

    Once an event is approved, what is *agreed* is what it suggests: a budget is then met by a change of that.
    """

    content: PricedEvent
    charges: frozenset[int] = frozenset()
    agreed: Approved | None = None


def start_of(content: PricedEvent, records: Sequence[Record]) -> Start:
    """Start from what was agreed; else from what we suggest, with the charges of the couple's last reply."""
    agreed, answered = standing(records), last_reply(records)
    if agreed is not None:
        approval = agreed.approval
        picks = _carried(content, approval.picks, approval.revision, records).picks
        return Start(suggesting(content, picks), agreed=agreed)
    if answered is None:
        return Start(content)
    reply = answered.reply
    return Start(content, _carried(content, reply.picks, reply.revision, records).picks.charges)


def fitted(start: Start, budget: int) -> Fitted:
    """Fit what there is into *budget* in smallest units."""
    return fit(table(start.content), matters_of(start.content), start.charges, budget)


def taken(content: PricedEvent, records: Sequence[Record], applied: Applied) -> Taken:
    """Give the content at the picks that *applied* names. Raises `NothingToApply`."""
    if applied.budget is not None:
        money, start = content.shared.currency, start_of(content, records)
        units = money.units(applied.budget)
        found = best_fit(table(start.content), matters_of(start.content), start.charges, units)
        if found is None:
            raise NothingToApply("even the least that it can come to is above that budget")
        return Taken(start.content, found.picks)
    found_reply = next((one for one in records if one.number == applied.reply), None)
    if found_reply is None or not isinstance(found_reply.body, Reply):
        there = ", ".join(str(one.number) for one in records if isinstance(one.body, Reply))
        raise NothingToApply(f"record {applied.reply} is no reply; replies are {there or 'not recorded yet'}")
    return _carried(content, found_reply.body.picks, found_reply.body.revision, records)


def _carried(content: PricedEvent, picks: Picks, revision: int, records: Sequence[Record]) -> Taken:
    of = next((one for one in revisions(records) if one.number == revision), None)
    if of is None:
        raise NothingToApply(f"revision {revision}, which it answers, is not in the records")
    picks, lost = carry(picks, of.snapshot.shown, snapshot(content).shown)
    return Taken(content, picks, lost)


def apply(worked: Worked, applied: Applied) -> tuple[Worked, list[Problem]]:
    """Give the event with a couple's page that shows those picks as what we suggest, open to choose from.

    What cannot be applied is an error, and what of a reply means nothing any more a warning.
    """
    event, content = worked.content.folder, worked.content
    place = place_at(event.node, ("event",))
    why = "The page is to show the proposal as it would stand then."
    try:
        found = taken(content, worked.stand.records, applied)
    except NothingToApply as nothing:
        fix = "raise the budget, change the pieces, or name another reply"
        return worked, [Problem("apply-nothing", place, str(nothing), why, fix, event=event.id)]
    page = suggesting(found.content, found.picks)
    stand = replace(worked.stand, page=page, settled=False, changed=None, issued=None)
    lost = "; ".join(f"{one.name}: {one.what}" for one in found.lost)
    what, fix = f"of what they picked is no longer there: {lost}", "leave it: it stands as you suggest"
    told = [Problem("apply-lost", place, what, why, fix, "warning", event=event.id)] if lost else []
    return replace(worked, stand=stand), told
