"""`sitegen send`: a revision where the couple see or pay anything new, and a message that says what."""

import argparse
import shlex

from sitegen.build.quick import Survey
from sitegen.cli.exits import DONE, OUTSIDE, Stop, say, say_json
from sitegen.cli.recording import event_named, journal_of, worked_out
from sitegen.cli.unwritten import stop_at_starter_words
from sitegen.records.append import Overtaken
from sitegen.records.revisions import Revision, last_revision, make_revision
from sitegen.records.snapshot import snapshot
from sitegen.reply.message import message


def send(options: argparse.Namespace, survey: Survey) -> int:
    """Make a revision of an event where there is anything new, and print the message to send with it."""
    event = event_named(survey, options.event)
    worked = worked_out(survey, event)
    journal = journal_of(survey, event)
    before = last_revision(journal.records)
    now = snapshot(worked.content, worked.heads)
    stop_at_starter_words(now.shown, "Nothing was recorded:", go_on=options.starter_words)
    try:
        made = make_revision(journal, now, survey.settings.today)
    except Overtaken as overtaken:
        raise Stop(f"{overtaken}; nothing was recorded, run this again", OUTSIDE) from None
    text = message(journal.records, before, made) if made else ""
    if options.json:
        number = made.number if made else before.number if before else None
        say_json({"ok": True, "revision": number, "made": made is not None, "message": text})
        return DONE
    if made is None:
        _say_same(before)
    else:
        say(f"Wrote {journal.shown}/{made.record.name}, revision {made.number}.")
        say(f"\nTo send with it:\n\n{_indented(text)}\n")
    name = shlex.quote(event)
    say(f"Next  sitegen publish {name}, or sitegen build {name} --one-file for a page to mail")
    return DONE


def _say_same(last: Revision | None) -> None:
    if last is not None:
        said = f"The couple would see nothing new since revision {last.number} of {last.day}"
        say(f"{said}: no revision was made.")


def _indented(text: str) -> str:
    return "\n".join(f"  {line}".rstrip() for line in text.splitlines())
