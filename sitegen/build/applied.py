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
from sitegen.records.agreed import Reply, last_reply
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
    """Picks for the content as it is, and what they no longer have of what was picked."""

    picks: Picks
    lost: tuple[Lost, ...] = ()


def charges_wanted(content: PricedEvent, records: Sequence[Record]) -> frozenset[int]:
    """Give the optional charges that the couple asked for last; none where they were not heard of yet."""
    answered = last_reply(records)
    return frozenset() if answered is None else _carried(content, answered.reply, records).picks.charges


def fitted(content: PricedEvent, records: Sequence[Record], budget: int) -> Fitted:
    """Fit the content, with the charges that the couple asked for, into *budget* in smallest units."""
    return fit(table(content), matters_of(content), charges_wanted(content, records), budget)


def taken(content: PricedEvent, records: Sequence[Record], applied: Applied) -> Taken:
    """Give the picks that *applied* names. Raises `NothingToApply`."""
    if applied.budget is not None:
        money = content.shared.currency
        charges = charges_wanted(content, records)
        found = best_fit(table(content), matters_of(content), charges, money.units(applied.budget))
        if found is None:
            raise NothingToApply("even the least that it can come to is above that budget")
        return Taken(found.picks)
    found_reply = next((one for one in records if one.number == applied.reply), None)
    if found_reply is None or not isinstance(found_reply.body, Reply):
        there = ", ".join(str(one.number) for one in records if isinstance(one.body, Reply))
        raise NothingToApply(f"record {applied.reply} is no reply; replies are {there or 'not recorded yet'}")
    return _carried(content, found_reply.body, records)


def _carried(content: PricedEvent, reply: Reply, records: Sequence[Record]) -> Taken:
    of = next((one for one in revisions(records) if one.number == reply.revision), None)
    if of is None:
        raise NothingToApply(f"revision {reply.revision}, which it answers, is not in the records")
    picks, lost = carry(reply.picks, of.snapshot.shown, snapshot(content).shown)
    return Taken(picks, lost)


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
    page = suggesting(content, found.picks)
    stand = replace(worked.stand, page=page, settled=False, changed=None, issued=None)
    lost = "; ".join(f"{one.name}: {one.what}" for one in found.lost)
    what, fix = f"of what they picked is no longer there: {lost}", "leave it: it stands as you suggest"
    told = [Problem("apply-lost", place, what, why, fix, "warning", event=event.id)] if lost else []
    return replace(worked, stand=stand), told
