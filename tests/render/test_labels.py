"""Labels: one for each box and each copy that somebody wears, with what stands on them."""

import datetime as dt
from collections.abc import Sequence
from typing import Any

from bs4 import BeautifulSoup, Tag

from sitegen.choices.picks import usual_picks
from sitegen.choices.table import table
from sitegen.model.content import Shared
from sitegen.order.order import Order, order
from sitegen.price.event import price_event
from sitegen.render.label_sheets import label_pages
from sitegen.render.labels import Label, LabelPage
from sitegen.render.pages import florist_page
from sitegen.theme import SHIPPED, Theme, find_theme
from tests import make
from tests.reading import DEMO, read_content

TODAY = dt.date(2031, 5, 1)
PLACES = [
    {"id": "house", "name": "Gate house", "ready": "12:15"},
    {"id": "barn", "name": "Long barn", "access": "10:00"},
]
BOUQUETS: dict[str, Any] = {
    "id": "bouquets",
    "piece": "Bouquets",
    "quantity": "3",
    "extra": "1",
    "recipe": {"rose": "3", "gum": "1/2"},
    "wearers": ["Bea", {"name": "Cleo", "side": "left wrist"}],
    "place": "house",
    "boxes": "2",
    "handling": "Keep upright",
}


def theme() -> Theme:
    found, problems = find_theme("labels", SHIPPED)
    assert found is not None, problems
    return found


def order_of(
    *pieces: dict[str, Any], shared: Shared | None = None, places: Sequence[dict[str, Any]] = PLACES
) -> Order:
    stems = {
        "rose": make.stem("71.31", "10", name="Garden rose, blush"),
        "cream": make.stem("71.31", "10", name="Garden rose, cream"),
        "gum": make.stem("5.00", "8", role="foliage", name="Eucalyptus, silver"),
    }
    folder = make.event(*pieces, places=places)
    priced = price_event(shared or make.shared(stems=stems, private="7131"), folder)
    return order(priced, usual_picks(table(priced)), TODAY)


def pages_of(*pieces: dict[str, Any], draft: bool = False) -> dict[str, LabelPage]:
    measures = theme().labels
    assert measures is not None
    return label_pages(order_of(*pieces), measures, TODAY, draft=draft)


def labels(page: LabelPage) -> list[Label]:
    return [label for sheet in page.sheets for label in sheet.labels]


def lines(label: Label) -> list[str]:
    return [line.text.replace("\u00a0", " ").replace("\u202f", " ") for line in label.lines]


def html_of(page: LabelPage) -> BeautifulSoup:
    return BeautifulSoup(florist_page("labels.html", page, page.language, theme()), "html.parser")


def test_a_box_says_where_it_comes_off_and_what_is_in_it() -> None:
    first, second = labels(pages_of(BOUQUETS)["labels-10.html"])
    assert lines(first) == [
        "GATE HOUSE",
        "Box 1 of 2 · Bouquets 1–2",
        "Bea, Cleo",
        "Keep upright",
        "A test · Sat, Jun 14",
        "Test Studio",
    ]
    assert lines(second)[1:3] == ["Box 2 of 2 · Bouquets 3–4", "No. 3, Spare"]


def test_boxes_are_numbered_through_the_event_by_the_order_of_the_pieces() -> None:
    arch = {"piece": "Arch", "recipe": {"rose": "3"}, "place": "barn", "boxes": "2", "bench": "on-site"}
    found = labels(pages_of({**BOUQUETS, "boxes": "1"}, arch)["labels-10.html"])
    assert [lines(one)[:2] for one in found] == [
        ["GATE HOUSE", "Box 1 of 3 · Bouquets 1–4"],
        ["LONG BARN", "Box 2 of 3 · Arch, part 1 of 2"],
        ["LONG BARN", "Box 3 of 3 · Arch, part 2 of 2"],
    ]


def test_what_is_built_elsewhere_travels_as_stems() -> None:
    arch = {
        "piece": "Arch",
        "recipe": {"rose": "3", "cream": "4", "gum": "1/2"},
        "boxes": "1",
        "bench": "on-site",
    }
    (label,) = labels(pages_of(arch)["labels-10.html"])
    assert lines(label)[:3] == ["NO PLACE NAMED", "Box 1 of 1 · Arch", "7 Garden rose, 1 Eucalyptus"]


def test_what_the_couple_make_goes_to_them() -> None:
    posies = {**BOUQUETS, "piece": "Posies", "made_by": "couple", "boxes": "1"}
    pages = pages_of(posies)
    (label,) = labels(pages["labels-10.html"])
    assert lines(label)[:3] == [
        "FOR ADA AND BEN TO MAKE",
        "Box 1 of 1 · Posies 1–4",
        "12 Garden rose, 2 Eucalyptus",
    ]
    assert lines(labels(pages["labels-21.html"])[0])[1] == "Posies, made by you"


def test_each_copy_that_is_made_has_its_wearers_label() -> None:
    order_ = order_of(BOUQUETS)
    found = labels(pages_of(BOUQUETS)["labels-21.html"])
    pulled = [block for block in order_.pulled if not block.together]
    assert len(found) == sum(block.copies for block in pulled) == 4
    assert [lines(one) for one in found] == [
        ["Bea", "Bouquets", "Gate house · Sat, Jun 14, 12:15 PM", "1 of 4"],
        ["Cleo", "Bouquets, left wrist", "Gate house · Sat, Jun 14, 12:15 PM", "2 of 4"],
        ["No. 3", "Bouquets", "Gate house · Sat, Jun 14, 12:15 PM", "3 of 4"],
        ["Spare", "Bouquets", "Gate house · Sat, Jun 14, 12:15 PM", "4 of 4"],
    ]


def test_the_hour_stays_on_a_wearers_label_however_long_the_place_is_called() -> None:
    measures = theme().labels
    assert measures is not None
    place = {**PLACES[0], "name": "The long gate house beside the water " * 4}
    page = label_pages(order_of(BOUQUETS, places=[place]), measures, TODAY, draft=True)["labels-21.html"]
    assert lines(labels(page)[0])[2].endswith("… · Sat, Jun 14, 12:15 PM")


def test_pages_hold_ten_and_twenty_one_and_count_themselves() -> None:
    pages = pages_of({**BOUQUETS, "quantity": "22", "extra": "0", "boxes": "11"})
    boxes, wearers = pages["labels-10.html"], pages["labels-21.html"]
    assert [(len(one.labels), one.count) for one in boxes.sheets] == [(10, "page 1 of 2"), (1, "page 2 of 2")]
    assert [(len(one.labels), one.count) for one in wearers.sheets] == [
        (21, "page 1 of 2"),
        (1, "page 2 of 2"),
    ]


def test_without_boxes_or_wearers_there_is_no_page() -> None:
    assert pages_of({"recipe": {"rose": "1"}}) == {}
    assert list(pages_of({**BOUQUETS, "wearers": []})) == ["labels-10.html"]
    assert pages_of({**BOUQUETS, "quantity": "0"}) == {}


def test_each_label_carries_its_own_draft_until_it_is_approved() -> None:
    for page in pages_of(BOUQUETS, draft=True).values():
        soup = html_of(page)
        assert [one.get_text() for one in soup.select(".label > .draft")] == ["DRAFT"] * len(labels(page))
    for page in pages_of(BOUQUETS).values():
        assert "DRAFT" not in html_of(page).get_text()


def test_names_reach_the_page_inert_and_no_cost_does() -> None:
    nasty = '<b>Bea</b> & "co"'
    for page in pages_of({**BOUQUETS, "wearers": [nasty], "piece": nasty, "handling": nasty}).values():
        soup = html_of(page)
        main = soup.find("main")
        assert isinstance(main, Tag)
        assert not main.find_all("b")
        assert nasty in main.get_text()
        assert "71.31" not in str(soup)
        assert "7131" not in str(soup)


def test_long_words_are_set_smaller_and_then_cut() -> None:
    long = "A name that nobody would ever want to have to write on a small label " * 9
    (label,) = labels(pages_of({**BOUQUETS, "extra": "0", "quantity": "1", "boxes": "1", "piece": long,
                                "handling": long, "wearers": [long]})["labels-10.html"])  # fmt: skip
    assert label.size.endswith("tight")
    assert any(line.endswith("…") for line in lines(label))
    (short,) = labels(pages_of({**BOUQUETS, "extra": "0", "quantity": "1", "boxes": "1"})["labels-10.html"])
    assert short.size == "stop-1 large"


def test_the_measures_make_the_papers_whole() -> None:
    """ISO 216: A4 is 210 × 297 mm. ANSI/ASME Y14.1: Letter is 8.5 × 11 in."""
    measures = theme().labels
    assert measures is not None
    for sheet, columns, rows in ((measures.boxes, 2, 5), (measures.wearers, 3, 7)):
        for paper, (width, height) in ((sheet.a4, (210, 297)), (sheet.letter, (215.9, 279.4))):
            wide = 2 * paper.side.metres + columns * paper.width.metres
            high = 2 * paper.top.metres + rows * paper.height.metres
            assert abs(float(wide) * 1000 - width) < 0.05
            assert abs(float(high) * 1000 - height) < 0.05


def test_the_demo_has_a_label_for_every_box_and_every_wearer() -> None:
    shared, folders = read_content(DEMO)
    measures = theme().labels
    assert measures is not None
    for folder in folders:
        priced = price_event(shared, folder)
        made = order(priced, usual_picks(table(priced)), dt.date(2026, 11, 25))
        pages = label_pages(made, measures, dt.date(2026, 11, 25), draft=True)
        boxes = sum(piece.piece.boxes or 0 for piece in folder.pieces if piece.quantity.usual)
        worn = [piece for piece in folder.pieces if piece.piece.wearers]
        copies = sum(piece.quantity.usual + piece.piece.extra for piece in worn)
        got = {name: len(labels(page)) for name, page in pages.items()}
        assert got == {name: n for name, n in (("labels-10.html", boxes), ("labels-21.html", copies)) if n}
