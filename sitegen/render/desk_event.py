"""The florist's page of one event: what to do, the sums, what is left, the pieces, the days, her notes."""

import datetime as dt
from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass, field

from sitegen.choices.picks import Picks
from sitegen.choices.totals import Totals
from sitegen.model.content import Shared
from sitegen.order.order import Order
from sitegen.price.priced import Made, PricedEvent
from sitegen.render.couple import Link
from sitegen.render.couple_piece import Moment
from sitegen.render.dates import full_date, reads_from
from sitegen.render.desk import Dated, DeskEvent, Note, Sketch, Warned
from sitegen.render.desk_dates import dates_of
from sitegen.render.desk_figures import figures_for
from sitegen.render.desk_left import left_of
from sitegen.render.desk_next import revision_said, stage_of
from sitegen.render.desk_pieces import length, piece_rows
from sitegen.render.desk_progress import DRAFT, Progress
from sitegen.render.desk_record import record_rows
from sitegen.render.desk_seasons import seasons
from sitegen.render.desk_since import since_approval
from sitegen.render.desk_sums import group_shares, left_lines, payment_lines, sum_lines
from sitegen.render.desk_todo import capital, todo_of
from sitegen.render.order_message import messages
from sitegen.render.sketched import Sketched
from sitegen.render.words import Words


@dataclass(frozen=True, slots=True)
class Around:
    """What is known around an event: warnings of one or more lines each, files beside it, how far it came.

    `sketches` are by the ids of pieces, their files in `folder`, an address relative to the page.
    """

    warnings: tuple[str, ...] = ()
    files: tuple[str, ...] = ()
    progress: Progress = DRAFT
    sketches: Mapping[str, Sketched] = field(default_factory=dict)
    folder: str = ""


_NOTHING_AROUND = Around()


def event_view(
    priced: PricedEvent,
    picks: Picks,
    totals: Totals,
    order: Order,
    today: dt.date,
    around: Around = _NOTHING_AROUND,
) -> DeskEvent:
    """Make the page of an event as it stands *today*."""
    progress = around.progress
    shared, event = priced.shared, priced.folder.event
    figures = figures_for(shared.studio.language, shared.currency, today)
    language = figures.voice.language
    dates = dates_of(priced, totals, order, figures.voice, progress)
    target = shared.studio.pricing.target
    return DeskEvent(
        language=language,
        direction=reads_from(language),
        title=event.event,
        names=event.for_,
        day=Moment(event.date.isoformat(), full_date(event.date, language)),
        away=figures.away(event.date),
        stage=stage_of(event.closed, event.date, today, figures.voice.words, progress.stage),
        revision=revision_said(progress.revision, figures.voice.words),
        symbol=figures.symbol,
        links=tuple(_links(around.files, figures.voice.words)),
        todo=tuple(todo_of(priced, totals, dates, figures, progress)),
        warnings=tuple(_warned(text) for text in around.warnings),
        agreed=progress.approved is not None,
        sums=sum_lines(priced, picks, totals, figures),
        shares=group_shares(priced, totals, figures),
        left=left_lines(left_of(totals, order), order, figures, agreed=progress.approved is not None),
        payments=payment_lines(priced, totals, figures, progress),
        since=None if progress.moved is None else since_approval(progress.moved, figures),
        notes=tuple(_notes(priced, picks)),
        pieces=piece_rows(priced, picks, totals, order.sets, figures),
        sketches=tuple(_sketches(priced, around)),
        target="" if target is None else length(min(1000, int(target * 1000))),
        target_said="" if target is None else figures.rate(target),
        seasons=tuple(seasons(priced, picks, figures)),
        dates=tuple(Dated(figures.moment(due.day), capital(due.what), past=due.day < today) for due in dates),
        messages=messages(order, today),
        unsent=""
        if progress.stage == "approved"
        else figures.voice.words("Not approved yet: do not send these."),
        records=record_rows(progress.records, figures),
    )


def _links(files: Collection[str], _: Words) -> Iterator[Link]:
    """Name the files beside the page that there are, in the order in which they are used."""
    named = {
        "proposal.html": _("Proposal"),
        "order.html": _("Order and sheets"),
        "agreed.html": _("Agreed, to sign"),
        "for-you-to-make.html": _("For them to make"),
        "labels-10.html": _("Labels 2 × 5"),
        "labels-21.html": _("Labels 3 × 7"),
        "calendar.ics": _("Calendar file"),
        "figures.json": "figures.json",
    }
    return (Link(name, said) for name, said in named.items() if name in files)


def _sketches(priced: PricedEvent, around: Around) -> Iterator[Sketch]:
    """The sketches that stand for pieces, in the order of the proposal."""
    for piece in priced.pieces:
        one = around.sketches.get(piece.id, Sketched()).piece
        if one is not None:
            large, small = (f"{around.folder}/{one.renditions[at].name}" for at in (0, -1))
            shown = one.renditions[-1]
            yield Sketch(piece.file.piece.piece, small, large, shown.width, shown.height, one.alt)


def _warned(text: str) -> Warned:
    head, _, more = text.partition("\n")
    return Warned(head, more)


def _notes(priced: PricedEvent, picks: Picks) -> Iterator[Note]:
    """Gather the notes to self on the event, its pieces, the answers picked, and what goes into them."""
    yield from _note("", priced.folder.event.private)
    used: dict[str, Note] = {}
    for piece, pick in zip(priced.pieces, picks.pieces, strict=True):
        if pick.out:
            continue
        content = piece.file.piece
        yield from _note(content.piece, content.private)
        for choice, answer in zip(content.choices, pick.answers, strict=True):
            picked = choice.answers[answer]
            yield from _note(f"{content.piece}: {picked.label}", picked.private)
        used.update((note.about, note) for note in _of_things(piece.at(pick.answers).made, priced.shared))
    yield from used.values()


def _of_things(made: Made, shared: Shared) -> Iterator[Note]:
    for stem in made.recipe:
        yield from _note(shared.stems[stem].name, shared.stems[stem].private)
    for good in made.goods:
        yield from _note(shared.goods[good].name, shared.goods[good].private)


def _note(about: str, text: str | None) -> Iterator[Note]:
    if text is not None:
        yield Note(about, text)
