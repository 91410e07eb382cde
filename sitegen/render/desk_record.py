"""The record of an event in plain words, the newest first: what was sent, answered, agreed and taken back."""

from collections.abc import Iterator, Sequence

from sitegen.choices.picks import Pick, Picks, usual_picks
from sitegen.order.placed import Unplaced
from sitegen.records.agreed import Approval, Noted, Reply, Withdrawal
from sitegen.records.difference import difference, sums_of
from sitegen.records.journal import Record
from sitegen.records.revisions import Revision, Sent, revisions
from sitegen.records.shown import Shown
from sitegen.render.changes import tell
from sitegen.render.desk import Recorded
from sitegen.render.desk_figures import Figures
from sitegen.render.voice import Voice, florist_voice
from sitegen.values.money import Currency


def record_rows(records: Sequence[Record], figures: Figures) -> tuple[Recorded, ...]:
    """Tell all *records*, the newest first."""
    sent = {one.number: one for one in revisions(records)}
    rows = [_row(record, records[:at], sent, figures) for at, record in enumerate(records)]
    return tuple(reversed(rows))


def _row(record: Record, before: Sequence[Record], sent: dict[int, Revision], figures: Figures) -> Recorded:
    _, day = figures.voice.words, figures.moment(record.day)
    body = record.body
    if isinstance(body, Sent):
        return Recorded(day, *_revision(body, sent, figures))
    if isinstance(body, Reply):
        return Recorded(day, *_reply(body, before, sent, figures))
    if isinstance(body, Approval):
        return Recorded(day, *_approval(body, before, sent, figures))
    if isinstance(body, Withdrawal):
        day_of = _day_of(body.approval, before, figures)
        return Recorded(day, _("Approval of {day} withdrawn", day=day_of), (body.why,))
    if isinstance(body, Unplaced):
        day_of = _day_of(body.record, before, figures)
        why = (body.why,) if body.why else ()
        return Recorded(day, _("Order of {day} taken back: it was not placed", day=day_of), why)
    said = {"placed": _("Order placed")}
    return Recorded(day, said.get(record.kind, record.kind), ())


def _day_of(number: int, before: Sequence[Record], figures: Figures) -> str:
    return next((figures.day(one.day) for one in before if one.number == number), "?")


def _voice(shown: Shown) -> Voice:
    """The florist's words for amounts as they were shown then."""
    return florist_voice(shown.language, Currency(shown.currency, shown.table.digits))


def _revision(body: Sent, sent: dict[int, Revision], figures: Figures) -> tuple[str, tuple[str, ...]]:
    _, shown = figures.voice.words, body.snapshot.shown
    voice, total = _voice(shown), sums_of(shown).total
    said = _("Revision {n} sent, {total}", n=body.revision, total=voice.money.exact(total))
    last = sent.get(body.revision - 1)
    if last is None:
        return said, ()
    found = difference(last.snapshot.shown, shown)
    moved = found.total.now - found.total.was
    rows = (f"{one.name}: {one.what}" if one.what else one.name for one in tell(found, shown, voice))
    return f"{said} ({voice.money.change(moved)})" if moved else said, tuple(rows)


def _reply(
    body: Reply, before: Sequence[Record], sent: dict[int, Revision], figures: Figures
) -> tuple[str, tuple[str, ...]]:
    _, of = figures.voice.words, sent.get(body.revision)
    said = _("Reply from phone {phone} to revision {n}", phone=f"{body.phone:04X}", n=body.revision)
    if of is None:
        return said, ()
    shown, exact = of.snapshot.shown, _voice(of.snapshot.shown).money.exact
    said += f", {exact(body.total)}"
    newest = max((one.number for one in revisions(before)), default=body.revision)
    if body.revision < newest:
        said += "; " + _("they had revision {n} by then", n=newest)
    if body.shown != body.total:
        said += "; " + _("their page showed {total}", total=exact(body.shown))
    beside = (_("Beside it: “{text}”", text=line) for line in body.beside.splitlines())
    return said, (*_picked(shown, body.picks, figures), *_noted(shown, body.notes, figures), *beside)


def _approval(
    body: Approval, before: Sequence[Record], sent: dict[int, Revision], figures: Figures
) -> tuple[str, tuple[str, ...]]:
    _, of = figures.voice.words, sent.get(body.revision)
    said = _("Approved, revision {n}", n=body.revision)
    picked: tuple[str, ...] = ()
    if of is not None:
        said += f", {_voice(of.snapshot.shown).money.exact(body.total)}"
        picked = tuple(_picked(of.snapshot.shown, body.picks, figures))
    if body.reply is not None:
        said += "; " + _("from the reply of {day}", day=_day_of(body.reply, before, figures))
    return said, (*((body.why,) if body.why else ()), *picked)


def _picked(shown: Shown, picks: Picks, figures: Figures) -> Iterator[str]:
    """What was picked otherwise than suggested; where nothing was, just that."""
    _, usual = figures.voice.words, usual_picks(shown.table)
    rows = [
        f"{shown.pieces[at].title}: {'; '.join(said)}"
        for at, (pick, first) in enumerate(zip(picks.pieces, usual.pieces, strict=True))
        if (said := list(_pick(shown, at, pick, first, figures)))
    ]
    rows += [f"{shown.labels.charges[i]}: {_('added')}" for i in sorted(picks.charges)]
    yield from rows or (_("As we suggest"),)


def _pick(shown: Shown, at: int, pick: Pick, usual: Pick, figures: Figures) -> Iterator[str]:
    _ = figures.voice.words
    if pick.out:
        yield _("left out")
        return
    choices = zip(shown.pieces[at].choices, pick.answers, usual.answers, strict=True)
    yield from (choice.answers[a].label for choice, a, first in choices if a != first)
    if pick.quantity != usual.quantity:
        yield _("{n}, instead of {usual}", n=pick.quantity, usual=usual.quantity)


def _noted(shown: Shown, notes: Sequence[Noted], figures: Figures) -> Iterator[str]:
    _, titles = figures.voice.words, {piece.id: piece.title for piece in shown.pieces}
    for note in notes:
        about = titles.get(note.piece) or _("On all of it")
        yield _("{about}, their note: “{text}”", about=about, text=note.text)
