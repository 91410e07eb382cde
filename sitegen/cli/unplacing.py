"""`sitegen order --placed --undo`: records that the last placed order was none. No record is taken away."""

import argparse
from collections.abc import Mapping
from dataclasses import dataclass, replace

from sitegen.build.quick import Survey
from sitegen.cli.exits import OUTSIDE, USAGE, Stop, say
from sitegen.cli.recording import confirm, event_named, journal_of
from sitegen.order.placed import Placed, Unplaced
from sitegen.records.append import Overtaken, append
from sitegen.records.bought import still_placed
from sitegen.records.journal import Journal, Record

_SINCE = "counts as not placed. Suppliers have to hear it from you: nothing was sent"


@dataclass(frozen=True, slots=True)
class Undone:
    """The placed order of an event that counts no more, and the name of the record that says so."""

    event: str
    undone: str
    record: str


def unplace(options: argparse.Namespace, survey: Survey) -> list[Undone]:
    """Undo the last placed order of each named event. Raises `Stop`.

    What was placed for several events as one is undone for all of them, so that nobody is left with packs
    that another has given back. A run that was killed between two of them is brought to its end by the next.
    """
    events = list(dict.fromkeys(event_named(survey, name) for name in options.events))
    journals = {event: journal_of(survey, event) for event in events}
    last = {event: found[-1] for event in events if (found := still_placed(journals[event].records))}
    if not last:
        raise Stop(f"no order stands as placed for {', '.join(events)}; there is nothing to undo", USAGE)
    there = {files.id for files in survey.tree.events}
    for event, record in last.items():
        if isinstance(record.body, Placed):
            _refuse(event, record.body, last, _others(survey, journals, record.body, there))
    if not options.json:
        for event, record in last.items():
            say(f"{event}: placed on {record.day}, {record.name}")
    confirm(options, "Say that this was not placed?" if len(last) == 1 else "Say that these were not placed?")
    done = [_undone(options, survey, (event, journals[event], record)) for event, record in last.items()]
    if not options.json:
        for one in done:
            say(f"Recorded {journals[one.event].shown}/{one.record}: {one.undone} {_SINCE}.")
    return done


def _others(
    survey: Survey, journals: Mapping[str, Journal], body: Placed, there: set[str]
) -> dict[str, Journal]:
    """The journals of those it was placed together with, as far as their folders are still there."""
    names = [other.event for other in body.together if other.event in there]
    return {name: journals.get(name) or journal_of(survey, name) for name in names}


def _refuse(event: str, body: Placed, last: Mapping[str, Record], others: Mapping[str, Journal]) -> None:
    """Raise `Stop` where a part of the same purchase would stand alone, or has something placed upon it."""
    for other in body.together:
        if other.event not in others:
            continue
        standing = [_alone(record.body) for record in still_placed(others[other.event].records)]
        if other.placed not in standing:
            continue  # never recorded, or undone by a run that was killed before it came to this one
        both = " ".join((event, *others))
        if other.event not in last:
            raise Stop(f"it was placed together: sitegen order {both} --placed --undo", USAGE)
        if standing[-1] != other.placed:
            first = f"sitegen order {other.event} --placed --undo"
            raise Stop(f"{other.event} has something placed since; undo that first: {first}", USAGE)


def _alone(body: object) -> object:
    return replace(body, together=()) if isinstance(body, Placed) else body


def _undone(options: argparse.Namespace, survey: Survey, one: tuple[str, Journal, Record]) -> Undone:
    event, journal, record = one
    try:
        body = Unplaced(record.number, options.why or "")
        after = append(journal, "unplaced", survey.settings.today, body)
    except Overtaken as overtaken:
        raise Stop(f"{overtaken}; nothing was recorded, look at it and run this again", OUTSIDE) from None
    return Undone(event, record.name, after.records[-1].name)
