"""A judged reply in sentences for the florist: what it is, what it changes, and what to do next. Private."""

import datetime as dt
import shlex
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from sitegen.choices.picks import Picks, usual_picks
from sitegen.records.agreed import Answered, last_reply, standing
from sitegen.records.change import Step
from sitegen.records.journal import Record
from sitegen.records.revisions import Revision, revisions
from sitegen.records.shown import Shown
from sitegen.render.changes import voice_of
from sitegen.render.money import MoneyFormat
from sitegen.reply.carry import Lost, carry
from sitegen.reply.difference import PicksDifference, picks_difference
from sitegen.reply.find import Broken
from sitegen.reply.judge import Judged, Verdict
from sitegen.reply.notes import shown as inert

BROKEN = {
    Broken.CUT: "A code in it is cut off: its end is missing. Ask them to send the whole message again, as "
    "text or with the page's own file.",
    Broken.DAMAGED: "A code in it is damaged: a sign is another, or missing. Ask them to send it again, and "
    "to copy the line instead of typing it.",
    Broken.NEWER: "A code in it was made by a newer sitegen. Read it with the one that published the page.",
}

_NEVER = Step(0, 0)  # nothing was recorded before

NO_CODE = (
    "There is no code in it, so nothing proves who wrote it, and nothing was recorded. If it is what they "
    "want, ask for a reply from the private page, or write it down by hand: "
    'sitegen approve EVENT --revision N --why "…".'
)


@dataclass(frozen=True, slots=True)
class Against:
    """What a reply is held against, in words, and what differs; the totals are each as it was told then.

    *same* is what the choices recorded in revision *of* came to, and come to in the reply's own; *lost* is
    what that has no longer of them.
    """

    what: str
    found: PicksDifference
    of: int = 0
    same: Step[int] = _NEVER
    lost: tuple[Lost, ...] = ()


def told(judged: Judged, records: Sequence[Record], today: dt.date) -> tuple[str, ...]:
    """Say all there is to say of a judged code; *records* are those of its event."""
    reply, revision = judged.reply, judged.revision
    if reply is None or revision is None:
        return (_refused(judged),)
    shown = revision.snapshot.shown
    against = compared(judged, records)
    of = f"a reply to revision {revision.number} of {revision.day}, from phone {reply.phone:04X}"
    return (
        f"{inert(shown.names)}: {of}",
        *_standing(judged, records, today),
        *difference_lines(against.found, shown, f"Against {against.what}:"),
        *_moved_on(against, revision),
        *_notes(judged),
        *_since(judged, records),
    )


def _refused(judged: Judged) -> str:
    event = judged.event
    if judged.verdict is Verdict.UNKNOWN:
        return (
            "This code belongs to none of your events here. If it should, its key is missing: bring "
            ".sitegen/keys from the machine that built the page, or sitegen keys import FILE."
        )
    if judged.verdict is Verdict.OLD_LINK:
        return (
            f"This code was made with a link of {event} that you renewed since, or before its page asked "
            "for a phrase; nothing can prove it any more. Ask them to answer from the page as it is now: "
            f"sitegen link {shlex.quote(event)}."
        )
    if judged.verdict is Verdict.FORGED:
        return (
            f"This code names {event}, and the couple's link did not make it. Do not act on it; ring them "
            "on a number that you know."
        )
    if judged.verdict is Verdict.AHEAD and not judged.packed.revision:
        return (
            f"This code comes from a page of {event} that was never sent as a revision, so nothing can price "
            "it. Send or publish the page, and ask for a new reply."
        )
    if judged.verdict is Verdict.AHEAD:
        return (
            f"This code answers revision {judged.packed.revision} of {event}, which is not in its records "
            f"here (the last is {judged.last}). Bring records/ from the machine that sent it."
        )
    return (
        f"This code was made by the link of {event} and does not fit revision {judged.packed.revision} as "
        "recorded here: its page was made from other content. Publish again and ask for a new reply."
    )


def _standing(judged: Judged, records: Sequence[Record], today: dt.date) -> Iterator[str]:
    """What speaks for it and against it, each with what to do next."""
    reply, revision, same = judged.reply, judged.revision, judged.same
    if reply is None or revision is None:
        return
    shown, money = revision.snapshot.shown, voice_of(revision.snapshot.shown).money
    yield "Their link made it, and it arrived whole."
    if judged.verdict is Verdict.REPEATED and same:
        yield _known(same, records)
    if judged.verdict is Verdict.OLDER and same:
        yield f"The same phone sent a later one, recorded on {same.record.day}: this one was overtaken."
    if judged.verdict is Verdict.STALE:
        yield f"It is stale: they have had revision {judged.last} since. Ask whether it still holds."
    if judged.alarm:
        yield (
            f"ALARM: their page showed {money.exact(reply.shown)}, and revision {revision.number} comes to "
            f"{money.exact(reply.total)}. The page was changed or is not ours; talk to them first."
        )
    if agreed := standing(records):
        yield (
            f"You approved this event on {agreed.day}. Recording a reply changes nothing of it; for another "
            "answer, approve it anew."
        )
    if shown.closes is not None and shown.closes < today:
        yield f"Changes closed on {shown.closes}: it is for you to say whether it still counts."


def _known(same: Answered, records: Sequence[Record]) -> str:
    last = last_reply(records)
    if last is None or last.record.number == same.record.number:
        return f"It is recorded already, on {same.record.day}: nothing to do."
    return (
        f"It is recorded already, on {same.record.day}, and another since, on {last.record.day}, which "
        "counts: nothing to do unless this one is to count after all."
    )


def compared(judged: Judged, records: Sequence[Record]) -> Against:
    """What a reply changes against the last one recorded, or else against what was suggested."""
    reply, revision = judged.reply, judged.revision
    if reply is None or revision is None:
        raise ValueError("a code that says nothing changes nothing")
    shown = revision.snapshot.shown
    known = last_reply(records)
    if known is None:
        return Against("what you suggested", picks_difference(shown, usual_picks(shown.table), reply.picks))
    old = known.reply
    was, lost = _carried(old.picks, old.revision, revision, records)
    phone = "the same phone" if old.phone == reply.phone else "another phone"
    found = picks_difference(shown, was, reply.picks)
    return Against(
        f"what was recorded on {known.record.day}, from {phone}",
        replace(found, total=Step(old.total, found.total.now)),
        old.revision,
        Step(old.total, found.total.was),
        lost,
    )


def carried(picks: Picks, of: int, to: Revision, records: Sequence[Record]) -> Picks:
    """Take picks of the revision numbered *of* over to another."""
    return _carried(picks, of, to, records)[0]


def _carried(
    picks: Picks, of: int, to: Revision, records: Sequence[Record]
) -> tuple[Picks, tuple[Lost, ...]]:
    was = next((one for one in revisions(records) if one.number == of), None)
    if was is None or of == to.number:
        return picks, ()
    return carry(picks, was.snapshot.shown, to.snapshot.shown)


def _moved_on(against: Against, revision: Revision) -> Iterator[str]:
    """What a later revision makes of the choices that were recorded: what they cost in it, what is gone."""
    money = voice_of(revision.snapshot.shown).money
    was, now = against.same.was, against.same.now
    if was != now:
        yield (
            f"  Of it {money.change(now - was)} is no choice of theirs: what was recorded came to "
            f"{money.exact(was)} in revision {against.of}, and the same choices come to {money.exact(now)} "
            f"in revision {revision.number}."
        )
    yield from _gone(against.lost, revision.number)


def difference_lines(found: PicksDifference, shown: Shown, head: str) -> Iterator[str]:
    """A line for each piece or charge that differs, then both totals."""
    money = voice_of(shown).money
    yield head
    for row in found.rows:
        moved = f" ({money.change(row.moved)})" if row.moved else ""
        yield f"  {inert(row.name)}: {inert('; '.join(row.what), 300)}{moved}"
    if not found.rows:
        yield "  nothing differs"
    yield f"  {total_line(found.total, money)}"


def total_line(total: Step[int], money: MoneyFormat) -> str:
    """Both totals and what lies between them."""
    if total.was == total.now:
        return f"Total {money.exact(total.now)}, as before"
    change = money.change(total.now - total.was)
    return f"Total {money.exact(total.now)}, it was {money.exact(total.was)} ({change})"


def _notes(judged: Judged) -> Iterator[str]:
    reply, revision = judged.reply, judged.revision
    if reply is None or revision is None:
        return
    titles = {piece.id: piece.title for piece in revision.snapshot.shown.pieces} | {"": "On all of it"}
    if reply.notes:
        yield "Their notes:"
    for note in reply.notes:
        yield f"  {inert(titles[note.piece])}: {inert(note.text)}"
    if reply.beside:
        yield "They also wrote, or changed by hand; none of it is in the code, so read it:"
    for line in reply.beside.splitlines():
        yield f"  {inert(line)}"
    if not reply.noted_whole:
        yield "Their notes are missing or not as they wrote them: read the message itself, and ask."


def _since(judged: Judged, records: Sequence[Record]) -> Iterator[str]:
    """What a stale reply asks for that the last revision has no longer."""
    reply, revision = judged.reply, judged.revision
    if judged.verdict is not Verdict.STALE or reply is None or revision is None:
        return
    last = revisions(records)[-1]
    _, lost = carry(reply.picks, revision.snapshot.shown, last.snapshot.shown)
    yield from _gone(lost, last.number)


def _gone(lost: Sequence[Lost], number: int) -> Iterator[str]:
    if lost:
        yield f"What revision {number} no longer has of it:"
    for one in lost:
        yield f"  {inert(one.name)}: {inert(one.what)}"
