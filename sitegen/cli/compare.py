"""`sitegen compare`: what changed between two revisions, or since the last, in words and money."""

import argparse

from sitegen.build.quick import Survey
from sitegen.cli.exits import DONE, USAGE, Stop, say, say_json
from sitegen.cli.recording import event_named, journal_of, worked_out
from sitegen.records.snapshot import snapshot
from sitegen.render.compare import StudioRow, late_changes
from sitegen.render.compare_text import NoSuchRevision
from sitegen.render.compare_text import compare as compared


def compare(options: argparse.Namespace, survey: Survey) -> int:
    """Compare two revisions of an event; one of them, or the last, with the content as it is."""
    event = event_named(survey, options.event)
    if len(options.revisions) > 2:
        raise Stop("name two revisions at most", USAGE)
    journal, now = journal_of(survey, event), None
    late: tuple[StudioRow, ...] = ()
    if len(options.revisions) < 2:
        worked = worked_out(survey, event)
        now = snapshot(worked.content, worked.heads)
        late = late_changes(worked.priced, worked.order.portions)
    try:
        found = compared(journal.records, options.revisions, now, late)
    except NoSuchRevision as unknown:
        raise Stop(f"{event}: {unknown}", USAGE) from None
    if options.json:
        say_json(found.data)
    else:
        say("\n".join(found.lines))
    return DONE
