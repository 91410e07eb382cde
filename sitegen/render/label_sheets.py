"""Labels for boxes and for wearers, as they stand on sheets of stickers."""

import datetime as dt
from collections.abc import Iterator, Sequence

from markupsafe import Markup

from sitegen.model.labels import LabelPaper, Labels, LabelSheet
from sitegen.order.order import Order
from sitegen.render.dates import reads_from
from sitegen.render.label_boxes import box_labels
from sitegen.render.label_fit import fitted
from sitegen.render.label_wearers import wearer_labels
from sitegen.render.labels import Label, LabelPage, Line, Sheet
from sitegen.render.order_voice import OrderVoice, order_voice
from sitegen.render.paper import shorten
from sitegen.values.number import decimal_text

_ROWS = {"boxes": (2, 5), "wearers": (3, 7)}  # columns and rows of a page


def label_pages(order: Order, measures: Labels, today: dt.date, *, draft: bool) -> dict[str, LabelPage]:
    """Give the pages of labels by their files' names, as far as there is anything to stick them on."""
    voice = order_voice(order, today)
    boxes, wearers = tuple(box_labels(voice)), tuple(wearer_labels(voice))
    pages = {
        "labels-10.html": _page(voice, "boxes", boxes, measures.boxes, draft=draft),
        "labels-21.html": _page(voice, "wearers", wearers, measures.wearers, draft=draft),
    }
    return {name: page for name, page in pages.items() if page.sheets}


def _page(
    voice: OrderVoice, kind: str, labels: Sequence[Sequence[Line]], measures: LabelSheet, *, draft: bool
) -> LabelPage:
    _, event = voice.words, voice.order.priced.folder.event
    columns, rows = _ROWS[kind]
    title = _("Labels for boxes") if kind == "boxes" else _("Labels for wearers")
    lead = [
        _("For stickers of {columns} × {rows} to a page, A4 or Letter.", columns=columns, rows=rows),
        _("Print at full size, without scaling; try one on plain paper first."),
    ]
    if draft:
        lead.append(_("DRAFT. Not approved: counts and names may still change."))
    set_ = [fitted(kind, lines, measures, draft=draft) for lines in labels]
    return LabelPage(
        language=voice.voice.language,
        direction=reads_from(voice.voice.language),
        title=_("{event}, {sheet}", event=event.event, sheet=title.lower()),
        kind=kind,
        columns=columns,
        rows=rows,
        draft="DRAFT" if draft else "",
        lead=tuple(lead),
        foot=shorten(f"{event.event} · {voice.date(event.date)}", 60),
        a4=_measures(measures.a4),
        letter=_measures(measures.letter),
        sheets=tuple(_sheets(voice, set_, columns * rows)),
    )


def _sheets(voice: OrderVoice, labels: Sequence[Label], size: int) -> Iterator[Sheet]:
    pages = range(0, len(labels), size)
    for n, start in enumerate(pages, 1):
        count = voice.words("page {x} of {y}", x=n, y=len(pages))
        yield Sheet(tuple(labels[start : start + size]), count)


def _measures(paper: LabelPaper) -> Markup:
    """Write the measures as custom properties; lengths hold nothing but digits and a unit."""
    named = {"top": paper.top, "side": paper.side, "width": paper.width, "height": paper.height}
    said = (f"--{name}: {decimal_text(length.to('mm').amount)}mm" for name, length in named.items())
    return Markup("; ").join(map(Markup, said))
