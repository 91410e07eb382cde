"""What a whole code is worth: which event it belongs to, whether its link made it, and what it says.

Nothing in a code is believed: picks are read with the stored revision's table and priced from it.
"""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum

from sitegen.choices.totals import totals
from sitegen.records.agreed import Answered, Noted, Reply, replies
from sitegen.records.journal import Record
from sitegen.records.revisions import Revision, revisions
from sitegen.reply.code import Packed, Said, is_of, is_proven, said_by, shows
from sitegen.reply.notes import notes_digest
from sitegen.seal.keys import Secrets, choose_link, keys_of, link_keys


class Verdict(StrEnum):
    UNKNOWN = "unknown"
    """No event here has a link that it could come from."""
    OLD_LINK = "old link"
    """Made with a link that has been renewed since, or without the phrase of now: nothing can prove it."""
    FORGED = "forged"
    """It names an event of ours, and that event's link did not make it."""
    AHEAD = "ahead"
    """It answers a revision that is not in the records here."""
    MISFIT = "misfit"
    """The link made it, and it does not fit the revision that it names."""
    REPEATED = "repeated"
    """This same reply is recorded already."""
    STALE = "stale"
    """It answers an older revision than the couple have now."""
    OLDER = "older"
    """The same phone sent a later reply, which is recorded already."""
    VALID = "valid"


TAKEN = frozenset({Verdict.REPEATED, Verdict.STALE, Verdict.OLDER, Verdict.VALID})
"""The verdicts on replies that say something: the link made them, and their revision is here."""


@dataclass(frozen=True, slots=True)
class Judged:
    """A code's verdict; `event` where one is known, the rest where the verdict is one of `TAKEN`.

    `alarm` tells that the page showed another total than the revision gives. `same` is the record that holds
    this reply already, or a later one of the same phone.
    """

    verdict: Verdict
    packed: Packed
    event: str = ""
    revision: Revision | None = None
    last: int = 0
    reply: Reply | None = None
    alarm: bool = False
    same: Answered | None = None


def judge_all(
    codes: Sequence[Packed],
    keys: Mapping[str, Secrets],
    records: Callable[[str], Sequence[Record]],
    notes: Mapping[int, str],
) -> list[Judged]:
    """Judge every code of one message as `judge` does; notes that one of them proves are no other's."""
    judged = [judge(packed, keys, records, notes) for packed in codes]
    if not any(one.reply and one.reply.noted_whole for one in judged):
        return judged
    return [
        judge(one.packed, keys, records, {}) if one.reply and not one.reply.noted_whole else one
        for one in judged
    ]


def judge(
    packed: Packed,
    keys: Mapping[str, Secrets],
    records: Callable[[str], Sequence[Record]],
    notes: Mapping[int, str],
) -> Judged:
    """Judge a code; *keys* are the events' secrets, *records* gives an event's, *notes* stood in the mail."""
    events = [event for event, own in keys.items() if is_of(packed, own.pid)]
    for event in events:
        own = keys[event]
        if is_proven(packed, keys_of(own).reply or b"", own.pid):
            return _proven(packed, event, records(event), notes)
        if own.phrase and is_proven(packed, link_keys(choose_link(own)).reply or b"", own.pid):
            # Made before the page asked for its phrase: by now whoever has the link alone could have made it.
            return Judged(Verdict.OLD_LINK, packed, event)
    if events:
        return Judged(Verdict.FORGED, packed, events[0])
    former = [event for event, own in keys.items() if any(is_of(packed, pid) for pid in own.former)]
    return Judged(Verdict.OLD_LINK if former else Verdict.UNKNOWN, packed, former[0] if former else "")


def _proven(packed: Packed, event: str, records: Sequence[Record], notes: Mapping[int, str]) -> Judged:
    sent = revisions(records)
    last = sent[-1].number if sent else 0
    revision = next((one for one in sent if one.number == packed.revision), None)
    if revision is None:
        return Judged(Verdict.AHEAD, packed, event, last=last)
    said = said_by(packed, revision.snapshot.shown.table)
    if said is None:
        return Judged(Verdict.MISFIT, packed, event, revision, last)
    reply = _reply(packed, said, revision, notes)
    verdict, same = _place(reply, last, replies(records))
    alarm = not shows(said, reply.total)
    return Judged(verdict, packed, event, revision, last, reply, alarm, same)


def _reply(packed: Packed, said: Said, revision: Revision, notes: Mapping[int, str]) -> Reply:
    """Price what was said. Notes that the code does not know are kept, and marked."""
    shown = revision.snapshot.shown
    ids = (*(piece.id for piece in shown.pieces), "")  # after all pieces comes a note on the whole
    noted = tuple(
        Noted(ids[number - 1], text) for number, text in sorted(notes.items()) if number <= len(ids)
    )
    return Reply(
        revision=revision.number,
        picks=said.picks,
        total=totals(shown.table, said.picks).total,
        code=packed.digest,
        shown=said.total,
        phone=said.phone,
        turn=said.turn,
        notes=noted,
        noted_whole=notes_digest(notes) == said.notes,
    )


def _place(reply: Reply, last: int, known: Sequence[Answered]) -> tuple[Verdict, Answered | None]:
    """Where a reply stands among those recorded. Only counts decide: clocks may be wrong."""
    for one in reversed(known):
        if one.reply.code == reply.code:
            return Verdict.REPEATED, one
    if reply.revision < last:
        return Verdict.STALE, None
    for one in reversed(known):
        same = (one.reply.phone, one.reply.revision) == (reply.phone, reply.revision)
        if same and one.reply.turn > reply.turn:
            return Verdict.OLDER, one
    return Verdict.VALID, None
