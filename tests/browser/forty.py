"""A wedding of forty pieces for paper: the demo's largest with its pieces repeated, the odd and the long among them."""

import datetime as dt
from collections.abc import Mapping
from dataclasses import replace
from fractions import Fraction

from sitegen.choices.picks import usual_picks
from sitegen.choices.table import table
from sitegen.model.content import EventFolder, PieceFile
from sitegen.model.piece import Piece, Wearer
from sitegen.order.order import order
from sitegen.price.event import price_event
from sitegen.render import labels
from sitegen.render.agreed import Settled, agreed_view
from sitegen.render.label_sheets import label_pages
from sitegen.render.making import making_view
from sitegen.render.order_card import CardPicture
from sitegen.render.order_cards import Seen
from sitegen.render.order_view import Stage, order_view
from sitegen.render.pages import florist_page, paper_page
from sitegen.theme import SHIPPED, find_theme
from sitegen.values.amount import StemAmount
from tests.reading import DEMO, read_content

NAMES = tuple(
    (words * 60)[:120]
    for words in (
        "the long low bowls beside the water ",
        "Rosengirlandenaufhänger",
        "باقة العروس من الورد الأبيض ",
        "花嫁の花束と小さなブーケ",
    )
)
"""Names of 120 letters: of many words, of one, from right to left, without spaces."""


def pages() -> dict[str, str]:
    """Render all that is printed of it, as a draft, by the names of the files."""
    shared, folders = read_content(DEMO)
    priced = price_event(shared, made_up(max(folders, key=lambda one: len(one.pieces))))
    picks, today = usual_picks(table(priced)), priced.folder.event.date - dt.timedelta(days=60)
    worked = order(priced, picks, today)
    (theme, _), (stickers, _) = (find_theme(name, SHIPPED) for name in ("sheets", labels.THEME))
    assert theme is not None
    assert stickers is not None
    assert stickers.labels is not None
    view = order_view(worked, Stage(1), today, 1_000_000, seen=pictured(priced.folder))
    made = making_view(worked, draft=True)
    assert made is not None
    return {
        "order.html": florist_page("order.html", view, view.language, theme),
        "agreed.html": paper_page("agreed.html", agreed_view(priced, picks, Settled(today), today), theme),
        "for-you-to-make.html": paper_page("for-you-to-make.html", made, theme),
        **{
            name: florist_page(labels.TEMPLATE, page, page.language, stickers)
            for name, page in label_pages(worked, stickers.labels, today, draft=True).items()
        },
    }


def made_up(folder: EventFolder) -> EventFolder:
    """Repeat the pieces until they are forty; the second round has the odd ones."""
    files = folder.pieces
    more = [replace(files[n % len(files)], id=f"again-{n}") for n in range(40 - len(files))]
    odd = [changed(file, **change) for file, change in zip(more, _changes(), strict=False)]
    place = folder.event.places[0].model_copy(update={"name": NAMES[0], "rules": NAMES[2]})
    event = folder.event.model_copy(update={"places": (place, *folder.event.places[1:]), "for_": NAMES[3]})
    return replace(folder, event=event, pieces=(*files, *odd, *more[len(odd) :]))


def _changes() -> list[Mapping[str, object]]:
    one, many = ({"garden-rose-blush": StemAmount(Fraction(n), bunches=False)} for n in (1, 300))
    long = [{"piece": name, "handling": name} for name in NAMES]
    return [*long, {"wearers": tuple(Wearer(name=name) for name in NAMES)}, {"recipe": one}, {"recipe": many}]


def changed(file: PieceFile, **change: object) -> PieceFile:
    piece: Piece = file.piece.model_copy(update={**change, "choices": ()})
    return replace(file, piece=piece)


def pictured(folder: EventFolder) -> dict[str, Seen]:
    """A picture on every other card; it takes its room without being there."""
    return {file.id: Seen(CardPicture("none.jpeg", "A bouquet", "As shown")) for file in folder.pieces[::2]}
