"""Measure how long the whole sheet set of an event takes, from its order to its pages. Run it by hand:

    python tests/bench/sheets.py [--pieces 40] [--rounds 5]

Prints processor time of one core: all sheets of the order, what is agreed, what the couple make, labels, and the
desk's page, each rendered to HTML. Printing to PDF is Chromium's work. Machines are noisy. Nothing here is a test.
"""

import argparse
import datetime as dt
import statistics
import time
from dataclasses import replace

from sitegen.choices.picks import usual_picks
from sitegen.choices.table import table
from sitegen.model.content import EventFolder
from sitegen.order.order import order
from sitegen.order.plan import plan_of
from sitegen.price.event import price_event
from sitegen.render import labels
from sitegen.render.agreed import Settled, agreed_view
from sitegen.render.label_sheets import label_pages
from sitegen.render.making import making_view
from sitegen.render.order_view import Stage, order_view
from sitegen.render.pages import florist_page, paper_page
from sitegen.theme import SHIPPED, find_theme
from tests.reading import DEMO, read_content


def made_up(folder: EventFolder, pieces: int) -> EventFolder:
    """Repeat the event's pieces until they are so many."""
    files = folder.pieces
    more = [replace(files[n % len(files)], id=f"again-{n}") for n in range(pieces - len(files))]
    return replace(folder, pieces=(*files, *more)[:pieces])


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--pieces", type=int, default=40)
    parser.add_argument("--rounds", type=int, default=5)
    options = parser.parse_args()
    shared, folders = read_content(DEMO)
    priced = price_event(shared, made_up(max(folders, key=lambda one: len(one.pieces)), options.pieces))
    picks, today = usual_picks(table(priced)), priced.folder.event.date - dt.timedelta(days=60)
    worked = order(priced, picks, today)
    plan = plan_of(worked)
    theme, stickers = (find_theme(name, SHIPPED)[0] for name in ("sheets", labels.THEME))
    if theme is None or stickers is None or stickers.labels is None:
        raise SystemExit("the themes of the sheets are not there")
    spent = []
    for _ in range(options.rounds):
        begun = time.process_time()
        view = order_view(worked, Stage(1, today), today, 1_000_000, plan=plan)
        texts = [florist_page("order.html", view, view.language, theme)]
        texts.append(
            paper_page("agreed.html", agreed_view(priced, picks, Settled(today, None, today), today), theme)
        )
        made = making_view(worked, draft=False)
        texts += [paper_page("for-you-to-make.html", made, theme)] if made else []
        pages = label_pages(worked, stickers.labels, today, draft=False)
        texts += [florist_page(labels.TEMPLATE, page, page.language, stickers) for page in pages.values()]
        spent.append(time.process_time() - begun)
    size = sum(map(len, texts)) / 1000
    print(f"{options.pieces} pieces, {len(texts)} pages, {size:.0f} kB of HTML")
    print(f"first {spent[0] * 1000:.0f} ms, then {statistics.median(spent[1:]) * 1000:.0f} ms")


if __name__ == "__main__":
    main()
