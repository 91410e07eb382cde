"""`sitegen send`: a revision where the couple see or pay anything new, and a message that says what."""

import argparse
import shlex

from sitegen.build.quick import Survey
from sitegen.cli.exits import DONE, OUTSIDE, Stop, say, say_json
from sitegen.cli.recording import event_named, journal_of, worked_out
from sitegen.cli.unwritten import stop_at_starter_words
from sitegen.records.append import Overtaken
from sitegen.records.revisions import make_revision, revisions
from sitegen.records.snapshot import snapshot
from sitegen.reply.message import message


def send(options: argparse.Namespace, survey: Survey) -> int:
    """Make a revision of an event where there is anything new, and print the message to send with the last.

    A run that was stopped before it said its message, or a revision that another command made, loses none.
    """
    event = event_named(survey, options.event)
    worked = worked_out(survey, event)
    journal = journal_of(survey, event)
    now = snapshot(worked.content, worked.heads)
    stop_at_starter_words(now.shown, "Nothing was recorded:", go_on=options.starter_words)
    try:
        made = make_revision(journal, now, survey.settings.today)
    except Overtaken as overtaken:
        raise Stop(f"{overtaken}; nothing was recorded, run this again", OUTSIDE) from None
    sent = journal_of(survey, event).records
    told = revisions(sent)[-1]
    text = message(sent, told)
    if options.json:
        say_json({"ok": True, "revision": told.number, "made": made is not None, "message": text})
        return DONE
    if made is not None:
        say(f"Wrote {journal.shown}/{told.record.name}, revision {told.number}.")
    else:
        say(f"The couple would see nothing new since revision {told.number} of {told.day}: none was made.")
    say(f"\nTo send with it{'' if made else ', once more'}:\n\n{_indented(text)}\n")
    name = shlex.quote(event)
    say(f"Next  sitegen publish {name}, or sitegen build {name} --one-file for a page to mail")
    return DONE


def _indented(text: str) -> str:
    return "\n".join(f"  {line}".rstrip() for line in text.splitlines())
