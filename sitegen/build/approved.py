"""What the records make of an event: revision and stage, and once approved, figures that no longer move."""

import datetime as dt
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from sitegen.build.stand_ins import late_swaps, stood_for, unused, without
from sitegen.choices.picks import Picks, usual_picks
from sitegen.choices.table import table
from sitegen.choices.totals import totals
from sitegen.load.tree import EventFiles
from sitegen.model.event import StandIn
from sitegen.order.order import portions
from sitegen.pictures.head import PhotoHead
from sitegen.price.priced import PricedEvent
from sitegen.price.standing_in import standing_in
from sitegen.records.agreed import Approved, standing
from sitegen.records.difference import matched
from sitegen.records.journal import Record
from sitegen.records.restored import gone, restored
from sitegen.records.restored_piece import as_agreed
from sitegen.records.restored_terms import with_charges
from sitegen.records.revisions import Revision, last_revision, read_records, revisions, stage
from sitegen.records.snapshot import Snapshot, changed_for_couple, snapshot
from sitegen.records.snapshot import portions as frozen_portions
from sitegen.render.changes import since, voice_of
from sitegen.render.compare import studio_changes
from sitegen.render.couple import Since
from sitegen.reply.carry import carry
from sitegen.values.money import Currency
from sitegen.values.node import place_at
from sitegen.values.problem import Problem

_MOST_TOLD = 6
_NONE = Fraction(0)


@dataclass(frozen=True, slots=True)
class Stand:
    """How an event stands.

    `content` is what the files say, priced as a change of it would be: stand-ins that came after an approval
    are in no price.
    `priced` at `picks` is what its figures, its order and the desk are made from: the content at what we
    suggest, or what was approved. `page` is what the couple's page shows. `approved` is the day of an
    approval that holds; `settled` tells that nothing newer was sent since, so that the page shows it too.
    `issued` is the day of the last revision, while the couple's page shows just that. `replied` is the day of
    the reply that was approved, `proposed` that of the proposal that `priced` at `picks` shows, once sent.
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
    records: tuple[Record, ...] = ()
    problems: tuple[Problem, ...] = ()


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
    return replace(
        told,
        priced=priced,
        picks=picks,
        page=_agreed_page(priced, picks) if settled else open_page,
        approved=agreed.day,
        settled=settled,
        changed=None if settled else told.changed,
        issued=revision.day if settled else told.issued,
        proposed=revision.day,
        replied=_replied(told.records, agreed.approval.reply),
        problems=(*told.problems, *_moved(agreed, snap, now, content)),
    )


def _revision(records: Sequence[Record], number: int) -> Revision | None:
    return next((one for one in revisions(records) if one.number == number), None)


def _replied(records: Sequence[Record], number: int | None) -> dt.date | None:
    return next((one.day for one in records if one.number == number), None)


def _agreed_page(priced: PricedEvent, picks: Picks) -> PricedEvent:
    """The event with nothing left to choose; what was left out stands there no longer."""
    both = zip(priced.pieces, picks.pieces, strict=True)
    pieces = tuple(as_agreed(piece, pick.answers, pick.quantity) for piece, pick in both if not pick.out)
    folder = replace(priced.folder, pieces=tuple(piece.file for piece in pieces))
    return with_charges(replace(priced, folder=folder, pieces=pieces), picks.charges)


def _moved(agreed: Approved, was: Snapshot, now: Snapshot, content: PricedEvent) -> Iterator[Problem]:
    """Warn of what has moved since an approval, and what it does to what is left; no figure follows it."""
    rows = studio_changes(was, now).rows
    lost = gone(was, content.shared)
    if not rows and not lost:
        return
    event, picks = content.folder, agreed.approval.picks
    sums = totals(was.shown.table, picks)
    money = voice_of(was.shown).money
    before_tax = sums.total - sum(sums.tax)
    first, then = (
        before_tax - cost for cost in (_cost_then(was, picks), _cost_now(was, picks, now, content))
    )
    names = [f"{row.name} ({row.what})" if row.what else row.name for row in rows]
    names += [f"{name} is no longer in the catalogue" for name in lost]
    more = f" and {len(names) - _MOST_TOLD} more" if len(names) > _MOST_TOLD else ""
    yield Problem(
        code="approved-moved",
        place=place_at(event.node, ("event",)),
        what=f"since the approval of {agreed.day} has changed: {'; '.join(names[:_MOST_TOLD])}{more}",
        why=f"What was approved stands. Of it was left after materials {money.exact(first)}, "
        f"and at today's content and prices {money.exact(then)}.",
        fix=f"leave it; or agree on it anew: sitegen send {event.id}, then sitegen approve {event.id}",
        severity="warning",
        event=event.id,
    )


def _cost_then(was: Snapshot, picks: Picks) -> int:
    """What is made at *picks* cost when it was approved, before there was an order, in smallest units."""
    return _units((one.cost * one.copies for one in frozen_portions(was, picks)), was)


def _cost_now(was: Snapshot, picks: Picks, now: Snapshot, content: PricedEvent) -> int:
    """The same pieces at today's recipes and catalogue; one that is gone still costs what it did."""
    carried, _ = carry(picks, was.shown, now.shown)
    before = matched(was.shown, now.shown)
    ids = {now.shown.pieces[at].id for at in before}
    costs = (one.cost * one.copies for one in portions(content, carried) if one.id in ids)
    kept = set(before.values())
    alone = tuple(replace(pick, out=pick.out or at in kept) for at, pick in enumerate(picks.pieces))
    return _units(costs, was) + _cost_then(was, replace(picks, pieces=alone))


def _units(costs: Iterable[Fraction], of: Snapshot) -> int:
    return Currency(of.shown.currency, of.shown.table.digits).units(sum(costs, _NONE))
