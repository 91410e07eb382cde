"""`sitegen approve`: freezes what was agreed, from a recorded reply or by hand; or takes it back."""

import argparse
import shlex

from sitegen.build.quick import Survey
from sitegen.choices.picks import Picks, usual_picks
from sitegen.choices.totals import totals
from sitegen.cli.exits import DONE, OUTSIDE, USAGE, Stop, say, say_json
from sitegen.cli.picking import picked
from sitegen.cli.recording import confirm, content_now, event_named, journal_of, recorded, worked_out
from sitegen.cli.unwritten import stop_at_starter_words
from sitegen.records.agreed import Answered, Approval, Approved, Withdrawal, last_reply, standing
from sitegen.records.append import Overtaken
from sitegen.records.change import Step
from sitegen.records.journal import Journal
from sitegen.records.revisions import Revision, as_if_sent, last_revision, make_revision, revisions
from sitegen.records.snapshot import Snapshot, changed_for_couple, snapshot
from sitegen.render.changes import voice_of
from sitegen.reply.difference import picks_difference
from sitegen.reply.telling import carried, difference_lines, total_line
from sitegen.values.money import Currency


def approve(options: argparse.Namespace, survey: Survey) -> int:
    """Record an approval of an event, or with --withdraw that it holds no longer."""
    event = event_named(survey, options.event)
    if options.withdraw:
        return _withdraw(options, survey, event)
    journal = journal_of(survey, event)
    first = None if revisions(journal.records) else _first(options, survey, event)
    revision, body = _agreed(options, _as_if(journal, first, survey), event)
    known = standing(journal.records)
    if known is not None and (known.approval.revision, known.approval.picks) == (body.revision, body.picks):
        like_this = f"{event} was approved like this on {known.day}, and nothing was recorded"
        raise Stop(f"{like_this}; what changed since needs a revision: sitegen send {event}", USAGE)
    stop_at_starter_words(revision.snapshot.shown, "Nothing was approved:", go_on=options.starter_words)
    if not options.json:
        _say(revision, body, known)
        _say_overtaken(journal, revision)
        _say_unsent(journal, survey, event)
    confirm(options, f"Approve revision {revision.number} like this?")
    if first is not None:
        _send_first(journal, first, survey)
    journal = recorded(survey, event, "approval", body)
    if options.json:
        shown = revision.snapshot.shown
        total = Currency(shown.currency, shown.table.digits).text(body.total)
        said = {"revision": body.revision, "total": total, "reply": body.reply}
        say_json({"ok": True, **said, "record": journal.records[-1].name})
        return DONE
    say(f"Recorded {journal.shown}/{journal.records[-1].name}: approved.")
    name = shlex.quote(event)
    if first is not None:
        say(f"Next  sitegen send {name}, for the message that goes with this first revision")
    say(f"Next  sitegen order {name}; its sheets say DRAFT no more")
    return DONE


def _first(options: argparse.Namespace, survey: Survey, event: str) -> Snapshot:
    """Where nothing was sent yet, what the content says now, to be the first revision."""
    if not options.why:
        raise Stop('nothing was sent yet; to approve what stands there now, say --why "…"', USAGE)
    worked = worked_out(survey, event)
    return snapshot(worked.content, worked.heads)


def _as_if(journal: Journal, first: Snapshot | None, survey: Survey) -> Journal:
    return journal if first is None else as_if_sent(journal, first, survey.settings.today)


def _send_first(journal: Journal, first: Snapshot, survey: Survey) -> None:
    try:
        make_revision(journal, first, survey.settings.today)
    except Overtaken as overtaken:
        raise Stop(f"{overtaken}; nothing was recorded, run this again", OUTSIDE) from None


def _agreed(options: argparse.Namespace, journal: Journal, event: str) -> tuple[Revision, Approval]:
    """What is to be approved: the last reply, or by hand a revision at what they chose and what is said."""
    sent = revisions(journal.records)
    answered = last_reply(journal.records)
    by_hand = options.revision is not None or options.pick
    if not by_hand and answered is not None and answered.reply.revision == sent[-1].number:
        reply = answered.reply
        number = answered.record.number
        return sent[-1], Approval(reply.revision, reply.picks, reply.total, number, options.why or "")
    if not options.why:
        raise Stop(_needs_a_reason(options, event, sent[-1], answered), USAGE)
    revision = _numbered(sent, options.revision)
    picks = picked(revision.snapshot.shown, _so_far(journal, revision), options.pick)
    total = totals(revision.snapshot.shown.table, picks).total
    return revision, Approval(revision.number, picks, total, None, options.why)


def _so_far(journal: Journal, revision: Revision) -> Picks:
    """What *revision* stands at by their last reply, or by the approval that holds if that is the later."""
    answered, agreed = last_reply(journal.records), standing(journal.records)
    if agreed is not None and (answered is None or answered.record.number < agreed.record.number):
        return carried(agreed.approval.picks, agreed.approval.revision, revision, journal.records)
    if answered is not None:
        return carried(answered.reply.picks, answered.reply.revision, revision, journal.records)
    return usual_picks(revision.snapshot.shown.table)


def _needs_a_reason(
    options: argparse.Namespace, event: str, last: Revision, answered: Answered | None
) -> str:
    if options.revision is not None or options.pick:
        return 'to approve by hand, say how it was agreed: --why "…"'
    state = "their last reply answers an older revision" if answered else "no reply is recorded"
    by_hand = f'sitegen approve {shlex.quote(event)} --revision {last.number} --why "…"'
    return f"{state}; read theirs with sitegen reply, or approve by hand and say why: {by_hand}"


def _numbered(sent: tuple[Revision, ...], number: int | None) -> Revision:
    for one in sent:
        if number in {None, one.number} and (number is not None or one is sent[-1]):
            return one
    there = ", ".join(str(one.number) for one in sent)
    raise Stop(f"there is no revision {number}; there are {there}", USAGE)


def _say(revision: Revision, body: Approval, known: Approved | None) -> None:
    shown = revision.snapshot.shown
    found = picks_difference(shown, usual_picks(shown.table), body.picks)
    say(f"{shown.names}: revision {revision.number} of {revision.day}")
    for line in difference_lines(found, shown, "Against what you suggest:"):
        say(line)
    if known is not None:
        both = Step(known.approval.total, body.total)
        say(f"Approved before, on {known.day}: {total_line(both, voice_of(shown).money)}")


def _say_overtaken(journal: Journal, revision: Revision) -> None:
    last = last_revision(journal.records)
    if last is not None and last.number > revision.number:
        newer = f"revision {last.number} of {last.day}"
        say(f"Note  They have had {newer} since, and this approves {revision.number}.")
        say("      Their page goes on showing the newer one, as a change that is not agreed yet.")


def _say_unsent(journal: Journal, survey: Survey, event: str) -> None:
    """Say that the files hold something newer than was sent. Errors in them hold up no approval."""
    last, now = last_revision(journal.records), content_now(survey, event)
    if last is not None and now is not None and changed_for_couple(last.snapshot, now):
        say(f"Note  What the files say now is newer than revision {last.number}, and is not approved here.")
        say(f"      To agree on that instead, send it first: sitegen send {shlex.quote(event)}")


def _withdraw(options: argparse.Namespace, survey: Survey, event: str) -> int:
    known = standing(journal_of(survey, event).records)
    if known is None:
        raise Stop(f"{event} is not approved; there is nothing to withdraw", USAGE)
    if not options.why:
        raise Stop("say why it is withdrawn: --why", USAGE)
    confirm(options, f"Withdraw the approval of {known.day}?")
    journal = recorded(survey, event, "withdrawal", Withdrawal(known.record.number, options.why))
    if options.json:
        say_json({"ok": True, "withdrawn": known.record.number, "record": journal.records[-1].name})
        return DONE
    say(f"Recorded {journal.shown}/{journal.records[-1].name}: the approval of {known.day} holds no longer.")
    say(f"Next  sitegen build {shlex.quote(event)}; its figures follow the content again")
    return DONE
