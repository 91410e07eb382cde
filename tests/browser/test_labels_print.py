"""Labels on paper, printed by a real Chromium on A4 and Letter: every word lies inside its own label."""

from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser

from sitegen.model.labels import LabelPaper
from sitegen.render.label_sheets import label_pages
from sitegen.render.pages import florist_page
from tests.paper import Printed, read
from tests.render.test_labels import BOUQUETS, TODAY, order_of, theme

pytestmark = pytest.mark.browser
POINT = 72 / 25.4  # points in a millimetre
GRIDS = {"labels-10.html": ("boxes", 2, 5), "labels-21.html": ("wearers", 3, 7)}
LEFT = 8  # millimetres that words keep from a label's left edge: printers miss it

LONG = "Wilhelmina Maximiliane Freifrau von Mommsen-Weissenburg and her four small bridesmaids"
PIECES: list[dict[str, Any]] = [
    {**BOUQUETS, "quantity": "9", "wearers": ["Bea", LONG, "WWWWWWWWWWWWWWWWWWWWWWWWWWWWWW"], "boxes": "9"},
    {**BOUQUETS, "id": "arch", "piece": LONG, "place": "barn", "handling": LONG, "wearers": [], "boxes": "3"},
    {
        **BOUQUETS,
        "id": "posies",
        "piece": "花束と小さなブーケ",
        "wearers": ["花子と太郎の小さな花束", {"name": "Cleo", "side": LONG}],
        "quantity": "12",
    },
]


@pytest.fixture(scope="module")
def printed(browser: Browser, tmp_path_factory: pytest.TempPathFactory) -> dict[tuple[str, str], Printed]:
    """Both kinds of labels, as drafts, on both papers."""
    measures = theme().labels
    assert measures is not None
    folder: Path = tmp_path_factory.mktemp("labels")
    pages = label_pages(order_of(*PIECES), measures, TODAY, draft=True)
    found = {}
    tab = browser.new_page()
    for name, page in pages.items():
        (folder / name).write_text(florist_page("labels.html", page, page.language, theme()), "utf-8")
        tab.goto((folder / name).as_uri())
        for paper in ("A4", "Letter"):
            found[name, paper] = read(tab.pdf(format=paper))
    tab.close()
    return found


def measures_of(name: str, paper: str) -> LabelPaper:
    measures = theme().labels
    assert measures is not None
    sheet = measures.boxes if GRIDS[name][0] == "boxes" else measures.wearers
    return sheet.a4 if paper == "A4" else sheet.letter


@pytest.mark.parametrize("paper", ["A4", "Letter"])
@pytest.mark.parametrize("name", GRIDS)
def test_every_word_lies_inside_its_own_label(
    printed: dict[tuple[str, str], Printed], name: str, paper: str
) -> None:
    found, one = printed[name, paper], measures_of(name, paper)
    _, columns, rows = GRIDS[name]
    top, side, wide, high = (
        float(length.metres) * 1000 * POINT for length in (one.top, one.side, one.width, one.height)
    )
    assert (round(found.width / POINT), round(found.height / POINT)) in {(210, 297), (216, 279)}
    for page in found.pages:
        for word in page:
            if word["top"] > top + rows * high:
                assert word["bottom"] < found.height, word  # the foot, in the bottom margin
                continue
            column, row = int((word["x0"] - side) // wide), int((word["top"] - top) // high)
            assert 0 <= column < columns, word
            assert 0 <= row < rows, word
            left, above = side + column * wide, top + row * high
            assert word["x0"] >= left + LEFT * POINT - 1, word
            assert word["x1"] <= left + wide - 2, word
            assert word["top"] >= above, word
            assert word["bottom"] <= above + high, word


@pytest.mark.parametrize("paper", ["A4", "Letter"])
@pytest.mark.parametrize("name", GRIDS)
def test_each_page_counts_itself_and_each_label_carries_its_draft(
    printed: dict[tuple[str, str], Printed], name: str, paper: str
) -> None:
    texts = printed[name, paper].texts()
    assert len(texts) == 2
    labels = {"labels-10.html": 9 + 3 + 2, "labels-21.html": 10 + 13}[name]
    assert "".join(texts).replace(" ", "").count("DRAFT") == labels
    for i, text in enumerate(texts, 1):
        told = text.replace(" ", "")  # letters of some typefaces come back one by one
        assert f"page{i}of{len(texts)}" in told
        assert "Printatfullsize" not in told
