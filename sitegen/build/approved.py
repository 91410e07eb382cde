"""What the records make of an event: revision and stage, and once approved, figures that no longer move."""

import datetime as dt
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from sitegen.build.moved import moved, moved_problem
from sitegen.build.stand_ins import late_swaps, stood_for, unused, without
from sitegen.choices.picks import Picks, usual_picks
from sitegen.choices.table import table
from sitegen.choices.totals import totals
from sitegen.load.tree import EventFiles
from sitegen.model.event import StandIn
from sitegen.pictures.head import PhotoHead
from sitegen.price.priced import PricedEvent
from sitegen.price.standing_in import standing_in
from sitegen.records.agreed import Approved, Reply, standing
from sitegen.records.journal import Record
from sitegen.records.restored import restored
from sitegen.records.restored_piece import as_agreed
from sitegen.records.restored_terms import with_charges
from sitegen.records.revisions import Revision, last_revision, read_records, revisions, stage
from sitegen.records.snapshot import Snapshot, changed_for_couple, snapshot
from sitegen.render.changes import since, still_agreed, voice_of
from sitegen.render.couple import Since
from sitegen.render.desk_progress import Moved, Progress
from sitegen.reply.carry import carry
from sitegen.values.problem import Problem

_MOST_TOLD = 6


@dataclass(frozen=True, slots=True)
class Stand:
    """How an event stands.

    `content` is what the files say, priced as a change of it would be: stand-ins that came after an approval
    are in no price.
    `priced` at `picks` is what its figures, its order and the desk are made from: the content at what we
    suggest, or what was approved. `page` is what the couple's page shows. `approved` is the day of an
    approval that holds; `settled` tells that nothing newer was sent since, so that the page shows it too.
    `issued` is the day of the last revision, while the couple's page shows just that. `replied` is the day of
    the reply that was approved, and `noted` its notes, each after its piece's name; `proposed` is the day of
    the proposal that `priced` at `picks` shows, once sent; `held` is the last day of the prices last sent.
    """

    content: PricedEvent
    priced: PricedEvent
    picks: Picks
    page: PricedEvent
    revision: int | None = None
    stage: str = "draft"
    approved: dt.date | None = None
    settled: bool = False
    changed: Since | None = None
    issued: dt.date | None = None
    proposed: dt.date | None = None
    replied: dt.date | None = None
    noted: tuple[tuple[str, str], ...] = ()
    held: dt.date | None = None
    records: tuple[Record, ...] = ()
    moved: Moved | None = None
    problems: tuple[Problem, ...] = ()

    @property
    def progress(self) -> Progress:
        """What of it the desk shows."""
        return Progress(
            self.stage,
            self.revision,
            self.revision is None or self.issued is not None,
            self.held,
            self.approved,
            self.settled,
            self.records,
            self.moved,
        )


def stand(content: PricedEvent, files: EventFiles, heads: Mapping[str, PhotoHead], today: dt.date) -> Stand:
    """Say how an event stands *today*; without records nothing is read. Raises OSError."""
    day, picks = content.folder.event.date, usual_picks(table(content))
    if not files.records:
        return Stand(content, content, picks, content, stage=stage((), day, today))
    journal = read_records(files.folder, files.shown)
    last, agreed = last_revision(journal.records), standing(journal.records)
    frozen = _revision(journal.records, agreed.approval.revision) if agreed else None
    late = late_swaps(content, frozen.snapshot) if frozen else ()
    written, content = content.folder, without(content, late) if late else content
    now = snapshot(content, heads)
    issued = last.day if last and not changed_for_couple(last.snapshot, now) else None
    told = Stand(
        content,
        content,
        picks,
        content,
        revision=last.number if last else None,
        stage=stage(journal.records, day, today),
        changed=_changed(now, revisions(journal.records)),
        issued=issued,
        proposed=issued,
        held=last.valid_until if last else None,
        records=journal.records,
        problems=journal.problems,
    )
    if agreed is None or frozen is None:
        return told
    now_agreed = _frozen(told, (agreed, frozen), now, late)
    idle = unused(written, late, stood_for(now_agreed.priced, now_agreed.picks))
    return replace(now_agreed, problems=(*now_agreed.problems, *idle))


def _changed(now: Snapshot, sent: Sequence[Revision]) -> Since | None:
    """What is new since the proposal before: the last one sent, or that before it while nothing changed."""
    for one in reversed(sent):
        if found := since(one.snapshot.shown, now.shown, one.day):
            return found
    return None


def _since_agreed(agreed: Approved, revision: Revision, now: Snapshot) -> Since | None:
    """What the couple have before them against what they approved, and which of both holds."""
    found = since(revision.snapshot.shown, now.shown, revision.day, agreed.approval.picks)
    if found is None:
        return None
    picks, _ = carry(agreed.approval.picks, revision.snapshot.shown, now.shown)
    comes_to = totals(now.shown.table, picks).total
    said = still_agreed(agreed.day, agreed.approval.total, comes_to, voice_of(now.shown))
    return replace(found, agreed=said)


def _frozen(
    told: Stand, approved: tuple[Approved, Revision], now: Snapshot, late: Sequence[StandIn]
) -> Stand:
    """Freeze what was *approved*; the *late* stand-ins are made in it, and in no price."""
    agreed, revision = approved
    content, snap, picks = told.priced, revision.snapshot, agreed.approval.picks
    priced = restored(snap, content)
    priced = standing_in(priced, late) if late else priced
    settled = revision.number == told.revision
    open_page = standing_in(content, late) if late else content
    since_then = moved(agreed, snap, now, content)
    return replace(
        told,
        priced=priced,
        picks=picks,
        page=_agreed_page(priced, picks) if settled else open_page,
        approved=agreed.day,
        settled=settled,
        changed=None if settled else _since_agreed(agreed, revision, now),
        issued=revision.day if settled else told.issued,
        proposed=revision.day,
        replied=_replied(told.records, agreed.approval.reply),
        noted=_noted(told.records, agreed.approval.reply, revision),
        moved=since_then,
        problems=(*told.problems, *moved_problem(since_then, content)),
    )


def _revision(records: Sequence[Record], number: int) -> Revision | None:
    return next((one for one in revisions(records) if one.number == number), None)


def _replied(records: Sequence[Record], number: int | None) -> dt.date | None:
    return next((one.day for one in records if one.number == number), None)


def _noted(records: Sequence[Record], number: int | None, revision: Revision) -> tuple[tuple[str, str], ...]:
    """Give the notes of the reply that was approved, each with the name of its piece."""
    titles = {piece.id: piece.title for piece in revision.snapshot.shown.pieces}
    bodies = (one.body for one in records if one.number == number)
    notes = (note for body in bodies if isinstance(body, Reply) for note in body.notes)
    return tuple((titles.get(note.piece, ""), note.text) for note in notes)


def _agreed_page(priced: PricedEvent, picks: Picks) -> PricedEvent:
    """The event with nothing left to choose; what was left out stands there no longer."""
    both = zip(priced.pieces, picks.pieces, strict=True)
    pieces = tuple(as_agreed(piece, pick.answers, pick.quantity) for piece, pick in both if not pick.out)
    folder = replace(priced.folder, pieces=tuple(piece.file for piece in pieces))
    return with_charges(replace(priced, folder=folder, pieces=pieces), picks.charges)
