"""A worked event to its files: the couple's page, the order, the florist's page, the figures."""

import datetime as dt
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from pydantic_core import to_json

from sitegen.build.event import Worked
from sitegen.build.moved import MOVED
from sitegen.model.content import Shared
from sitegen.order.figures import order_figures
from sitegen.order.plan_figures import plan_figures
from sitegen.order.pull_figures import pull_figures
from sitegen.pictures.plan import WHOLE, Job, Picture, Rendition, picture, plan
from sitegen.pictures.store import Store
from sitegen.render import desk, labels, order_calendar, shell
from sitegen.render.agreed import Settled, agreed_view
from sitegen.render.couple import CouplePage
from sitegen.render.couple_paper import AgreedPage, MakePage
from sitegen.render.desk_event import Around, event_view
from sitegen.render.desk_index import DeskRow, desk_row, index_view
from sitegen.render.desk_kept import Kept
from sitegen.render.figures import figures
from sitegen.render.label_sheets import label_pages
from sitegen.render.making import making_view
from sitegen.render.order_calendar import event_calendar
from sitegen.render.order_csv import order_csv
from sitegen.render.order_seen import seen_on_cards
from sitegen.render.order_view import Stage, order_view
from sitegen.render.pages import couple_page, florist_page, paper_page
from sitegen.render.photos import Show, carried, linked
from sitegen.render.proposal import Photos, couple_view
from sitegen.render.sketched import Sketches, sets_to_draw, sketches_of
from sitegen.render.standing import Standing
from sitegen.report import Finding, text
from sitegen.theme import Theme, find_theme
from sitegen.values.node import Map, place_at
from sitegen.values.problem import Problem

PICTURES = "../pictures"
SHEETS = "sheets"


@dataclass(frozen=True, slots=True)
class Shots:
    """An event's pictures as planned: what to make, each by its file's name, and the opening's."""

    jobs: tuple[Job, ...]
    pictures: Mapping[str, Picture]
    opening: Picture | None
    sketches: Sketches

    @property
    def renditions(self) -> Iterator[Rendition]:
        """All files that are made for the event's pages."""
        for job in self.jobs:
            yield from job.renditions
        for drawing in self.sketches.drawings:
            yield from drawing.renditions

    @property
    def all(self) -> tuple[Picture, ...]:
        """All pictures that a page may show."""
        sketched = (one for piece in self.sketches.of.values() for one in piece.all)
        return tuple(one for one in (*self.pictures.values(), self.opening, *sketched) if one)


@dataclass(frozen=True, slots=True)
class Rendered:
    """An event's files by name, its row on the desk, and the couple's page that is among them as a view."""

    files: Mapping[str, bytes]
    row: DeskRow
    page: CouplePage


def theme_of(worked: Worked, roots: Sequence[Path]) -> tuple[Theme | None, list[Problem]]:
    """Find the theme that an event asks for, else the studio's."""
    event, shared = worked.folder, worked.priced.shared
    name = event.event.theme or shared.studio.theme
    node: Map = event.node if event.event.theme else shared.nodes.studio
    return find_theme(name, roots, place_at(node, ("theme",)))


def shots(worked: Worked, theme: Theme, *, quick: bool = False) -> Shots:
    """Plan an event's pictures. The opening is the first photo of ours, cut, as the piece shows it whole."""
    look = replace(theme.look, quick=quick)
    jobs: list[Job] = []
    pictures: dict[str, Picture] = {}
    opening: Picture | None = None
    for piece in worked.stand.page.folder.pieces:
        for photo in piece.piece.photos:
            if photo.file in pictures:
                continue
            path, head = worked.folder.photos[photo.file], worked.heads[photo.file]
            alt = photo.alt or f"Photo of {piece.piece.piece}"
            job = plan(path, head, look)
            jobs.append(job)
            pictures[photo.file] = picture(job, alt, photo.kind, photo.credit or "")
            if opening is None and photo.kind == "ours":
                cut = plan(path, head, look, theme.opening) if theme.opening != WHOLE else job
                jobs.append(cut)
                opening = picture(cut, alt, photo.kind, photo.credit or "")
    page = worked.stand.page
    return Shots(tuple(jobs), pictures, opening, sketches_of(page, look, sets_to_draw(page)))


def event_pages(
    worked: Worked,
    theme: Theme,
    shown: Shots,
    today: dt.date,
    told: Sequence[Finding],
    own: Mapping[str, Theme],
    *,
    standing: Standing,
) -> Rendered:
    """Render an event's files, all but the one to mail. *own* are the themes of the florist's pages."""
    priced, order, stand = worked.priced, worked.order, worked.stand
    plain = figures(priced, worked.picks, worked.totals, order_figures(order), stand.revision, stand.stage)
    plain |= pull_figures(order) | plan_figures(order, worked.plan)
    couple = _couple(worked, shown, linked(PICTURES), standing)
    pages = {
        "proposal.html": couple_page(couple, theme),
        **_sheets(worked, shown, today, own[SHEETS]),
        **_labels(worked, today, own[labels.THEME]),
        **order_csv(order),
    }
    files = {name: page.encode() for name, page in pages.items()}
    settled = stand.approved is not None
    files[order_calendar.NAME] = event_calendar(order, worked.plan, today, approved=settled).encode()
    files["figures.json"] = to_json(plain, indent=1) + b"\n"
    # What has moved since an approval stands in a section of its own.
    texts = tuple(text(found) for found in told if found.code != MOVED)
    around = Around(texts, tuple(files), stand.progress, shown.sketches.of, PICTURES)
    view = event_view(priced, worked.picks, worked.totals, order, today, around)
    page = florist_page(desk.EVENT_TEMPLATE, view, view.language, own[desk.THEME])
    files["index.html"] = page.encode()
    row = desk_row(priced, worked.totals, order, stand.progress)
    return Rendered(files, row, couple)


def _sheets(worked: Worked, shown: Shots, today: dt.date, theme: Theme) -> dict[str, str]:
    """Render what is printed, by who gets it: the studio's order, and the couple's own sheets."""
    priced, stand = worked.priced, worked.stand
    agreed = worked.totals.total - sum(worked.totals.tax)
    seen = seen_on_cards(priced, worked.picks, shown.pictures, shown.sketches.of, PICTURES)
    stage = Stage(stand.revision, stand.approved)
    ours = order_view(worked.order, stage, today, agreed, seen=seen, plan=worked.plan, beside=None)
    settled = Settled(stand.proposed, stand.replied, stand.approved, stand.noted)
    theirs: dict[str, AgreedPage | MakePage | None] = {
        "agreed.html": agreed_view(priced, worked.picks, settled, today),
        "for-you-to-make.html": making_view(worked.order, draft=stand.approved is None),
    }
    return {
        "order.html": florist_page("order.html", ours, ours.language, theme),
        **{name: paper_page(name, view, theme) for name, view in theirs.items() if view},
    }


def _labels(worked: Worked, today: dt.date, theme: Theme) -> dict[str, str]:
    """Render the labels, where the theme says how large they are."""
    if theme.labels is None:
        return {}
    pages = label_pages(worked.order, theme.labels, today, draft=worked.stand.approved is None)
    return {name: florist_page(labels.TEMPLATE, page, page.language, theme) for name, page in pages.items()}


def one_file(worked: Worked, theme: Theme, shown: Shots, standing: Standing, store: Store) -> bytes:
    """Render the couple's page with its pictures inside, to mail; they must have been made."""
    show = carried(lambda rendition: store.path(rendition.name).read_bytes())
    return couple_page(_couple(worked, shown, show, standing), theme).encode()


def _couple(worked: Worked, shown: Shots, show: Show, standing: Standing) -> CouplePage:
    return couple_view(
        worked.stand.page, Photos(shown.pictures, shown.opening, show, shown.sketches.of), standing
    )


def desk_index(
    rows: Iterable[DeskRow], shared: Shared, kept: Kept, today: dt.date, own: Mapping[str, Theme]
) -> bytes:
    """Render the list of all events."""
    view = index_view(rows, shared.studio, shared.currency, today, kept)
    return florist_page(desk.INDEX_TEMPLATE, view, view.language, own[desk.THEME]).encode()


def own_themes(roots: Sequence[Path]) -> tuple[dict[str, Theme], list[Problem]]:
    """Read the themes of the florist's own pages and of the sealed shell, which are not hers to choose."""
    found: dict[str, Theme] = {}
    problems: list[Problem] = []
    for name in (SHEETS, labels.THEME, desk.THEME, shell.THEME):
        theme, wrong = find_theme(name, roots)
        problems += wrong
        if theme is not None:
            found[name] = theme
    return found, problems
