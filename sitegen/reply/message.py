"""The message that goes to a couple with a revision: what changed, in their words."""

from collections.abc import Iterator, Sequence

from sitegen.choices.picks import Picks
from sitegen.choices.totals import totals
from sitegen.records.agreed import last_reply, standing
from sitegen.records.journal import Record
from sitegen.records.revisions import Revision, last_revision
from sitegen.render.changes import since, still_agreed, voice_of
from sitegen.render.dates import long_date
from sitegen.render.voice import Voice
from sitegen.reply.telling import carried


def message(journal: Sequence[Record], now: Revision) -> str:
    """Write the mail for the revision *now*: what it changes of what stands in the *journal* before it."""
    records = [record for record in journal if record.number < now.record.number]
    before = last_revision(records)
    shown = now.snapshot.shown
    voice = voice_of(shown)
    _ = voice.words
    day = long_date(now.day, voice.language)
    signed = dict.fromkeys(filter(None, (shown.contact.name, shown.contact.studio)))
    paragraphs = [
        _("Subject: Your flowers, proposal of {date}", date=day),
        _("Dear {names},", names=shown.names),
        *(_changes(records, before, now, voice) if before else (_("here is our proposal for your day."),)),
        *_agreed(records, now, voice),
        *_until(now, voice),
        _("Nothing is final until we both sign."),
        "\n".join(signed),
    ]
    return "\n\n".join(paragraphs) + "\n"


def _changes(records: Sequence[Record], before: Revision, now: Revision, voice: Voice) -> Iterator[str]:
    _ = voice.words
    found = since(before.snapshot.shown, now.snapshot.shown, before.day, _chosen(records, before))
    if found is None:
        return
    yield _("your proposal of {date} has changed:", date=long_date(before.day, voice.language))
    yield "\n".join(
        f"- {row.name}{': ' * bool(row.what)}{row.what}{f' ({row.money})' if row.money else ''}"
        for row in found.rows
    )
    yield f"{found.total}; {found.was}."


def _chosen(records: Sequence[Record], before: Revision) -> Picks | None:
    """What the couple have chosen of the revision *before*: approved, or else answered last."""
    approved, answered = standing(records), last_reply(records)
    if approved is not None:
        return carried(approved.approval.picks, approved.approval.revision, before, records)
    if answered is not None:
        return carried(answered.reply.picks, answered.reply.revision, before, records)
    return None


def _agreed(records: Sequence[Record], now: Revision, voice: Voice) -> Iterator[str]:
    """After an approval a change is told with both totals: what was agreed, and what it comes to now."""
    approved = standing(records)
    if approved is None:
        return
    picks = carried(approved.approval.picks, approved.approval.revision, now, records)
    comes_to = totals(now.snapshot.shown.table, picks).total
    yield still_agreed(approved.day, approved.approval.total, comes_to, voice)


def _until(now: Revision, voice: Voice) -> Iterator[str]:
    _ = voice.words
    if now.valid_until is not None:
        yield _("Prices held until {date}", date=long_date(now.valid_until, voice.language)) + "."
    closes = now.snapshot.shown.closes
    if closes is not None and closes >= now.day:
        yield _("Counts and choices can change until {date}.", date=long_date(closes, voice.language))
