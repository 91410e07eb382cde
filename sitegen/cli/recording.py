"""What the commands that keep records share: the journal of an event, one more record, and a question."""

import argparse
import datetime as dt
import sys
from functools import partial
from pathlib import Path

from sitegen.build.event import Worked, work_out
from sitegen.build.last_orders import last_order
from sitegen.build.quick import NoSuchEvent, Survey, one_of
from sitegen.check.shared import check_shared
from sitegen.cli.exits import CONTENT, OUTSIDE, USAGE, Stop, say
from sitegen.pictures.memo import Memo
from sitegen.records.append import Overtaken, append
from sitegen.records.journal import Journal
from sitegen.records.revisions import read_records
from sitegen.records.snapshot import Snapshot, snapshot
from sitegen.report import finding, whole
from sitegen.values.problem import Problem, has_errors, in_order

_TERMINAL = Path("/dev/tty")


def event_named(survey: Survey, name: str) -> str:
    """Give the event that *name* means. Raises `Stop`."""
    try:
        return one_of(name, [files.id for files in survey.tree.events], "event")
    except NoSuchEvent as unknown:
        raise Stop(str(unknown), USAGE) from None


def journal_of(survey: Survey, event: str) -> Journal:
    """Read an event's records. Raises `Stop` where any of them cannot be trusted."""
    files = survey.files(event)
    journal = read_records(files.folder, files.shown)
    if has_errors(journal.problems):
        raise stopped(list(journal.problems), "Nothing was recorded.")
    return journal


def recorded(survey: Survey, event: str, kind: str, body: object) -> Journal:
    """Add a record of that kind on the day of this run. Raises `Stop` where another run came between."""
    day: dt.date = survey.settings.today
    try:
        return append(journal_of(survey, event), kind, day, body)
    except Overtaken as overtaken:
        raise Stop(f"{overtaken}; nothing was recorded, look at it and run this again", OUTSIDE) from None


def worked_out(survey: Survey, event: str) -> Worked:
    """Work an event out from the content. Raises `Stop` with every error."""
    worked, problems = _tried(survey, event)
    if worked is None:
        raise stopped(problems, "Nothing was recorded.")
    return worked


def content_now(survey: Survey, event: str) -> Snapshot | None:
    """Give what the content says now; None where it cannot be worked out."""
    worked, _ = _tried(survey, event)
    return None if worked is None else snapshot(worked.content, worked.heads)


def _tried(survey: Survey, event: str) -> tuple[Worked | None, list[Problem]]:
    checked = check_shared(survey.tree)
    last = partial(last_order, survey.settings.home)
    worked, problems = work_out(survey.files(event), checked, survey.settings.today, Memo(), last=last)
    return worked, [*checked.problems, *problems]


def stopped(problems: list[Problem], closing: str) -> Stop:
    errors = [problem for problem in in_order(problems) if problem.severity == "error"]
    say(whole([finding(problem) for problem in errors], closing), error=True)
    return Stop("put this right first", CONTENT)


def confirm(options: argparse.Namespace, question: str) -> None:
    """Go on with --yes, or where the answer is yes. Raises `Stop`."""
    if options.yes:
        return
    answer = None if options.json else ask(question)
    if answer is None:
        raise Stop("nothing was recorded; look at it, and run this again with --yes", USAGE)
    if not answer:
        raise Stop("nothing was recorded", USAGE)


def ask(question: str) -> bool | None:
    """Ask at the terminal, also where the standard input was the message; None where nobody can answer."""
    if not sys.stderr.isatty():
        return None
    try:
        with _TERMINAL.open("r+b", buffering=0) as terminal:
            terminal.write(f"{question} [y/N] ".encode())
            line = terminal.readline().decode(errors="replace")
    except OSError:
        return None
    return line.strip().lower() in {"y", "yes"}
