"""The order on paper, printed by a real Chromium on A4 and Letter and read back from the PDF."""

import datetime as dt
import re
from collections import Counter
from collections.abc import Callable
from io import BytesIO
from pathlib import Path

import pdfplumber
import pytest
from bs4 import BeautifulSoup
from playwright.sync_api import Browser

from sitegen.choices.picks import usual_picks
from sitegen.choices.table import table
from sitegen.order.order import order
from sitegen.price.event import price_event
from sitegen.render.order_view import Stage, order_view
from sitegen.render.pages import florist_page
from sitegen.theme import SHIPPED, find_theme
from tests.paper import Printed, read
from tests.reading import DEMO, read_content

pytestmark = pytest.mark.browser
PAPERS = ("A4", "Letter")
MARGINS = (14, 16)  # millimetres: left and right, bottom; the theme's own
POINT = 25.4 / 72


Print = Callable[..., Printed]


@pytest.fixture(scope="module")
def files(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Path]:
    """The demo's largest event as an order page, as a draft and approved."""
    shared, folders = read_content(DEMO)
    folder = max(folders, key=lambda one: len(one.pieces))
    priced = price_event(shared, folder)
    today = folder.event.date - dt.timedelta(days=60)
    worked = order(priced, usual_picks(table(priced)), today)
    theme, problems = find_theme("sheets", SHIPPED)
    assert theme is not None, problems
    out = tmp_path_factory.mktemp("order")
    for name, stage in (("draft", Stage(2)), ("approved", Stage(2, today))):
        page = order_view(worked, stage, today, 123_456)
        (out / f"{name}.html").write_text(florist_page("order.html", page, page.language, theme), "utf-8")
    return {name: out / f"{name}.html" for name in ("draft", "approved")}


@pytest.fixture(scope="module")
def printed(browser: Browser, files: dict[str, Path]) -> Print:
    kept: dict[tuple[str, str, str], Printed] = {}

    def make(paper: str, stage: str, sheet: str = "") -> Printed:
        if (paper, stage, sheet) not in kept:
            page = browser.new_page()
            page.goto(files[stage].as_uri() + sheet)
            data = page.pdf(format=paper)
            page.close()
            kept[paper, stage, sheet] = read(data)
        return kept[paper, stage, sheet]

    return make


@pytest.mark.parametrize("paper", PAPERS)
def test_every_page_says_draft_until_it_is_approved(printed: Print, paper: str) -> None:
    for text in printed(paper, "draft").texts():
        assert "DRAFT" in text
        alone = Counter(text.split())  # down the left margin, a letter a line, three times
        assert min(alone[letter] for letter in "DRAFT") >= 3
        assert "Revision 2, not approved" in text
    for text in printed(paper, "approved").texts():
        assert "DRAFT" not in text
        assert "Revision 2, approved" in text


@pytest.mark.parametrize("paper", PAPERS)
def test_every_page_names_its_sheet_and_counts_itself(printed: Print, paper: str) -> None:
    texts = printed(paper, "draft").texts()
    assert len(texts) > 10
    for i, text in enumerate(texts):
        assert f"page {i + 1} of {len(texts)}" in text
        assert re.search(
            r"Buying list|What it costs|Hard goods and ribbon|(?:Hire|Rentals), out and back|Pull list"
            r"|Build cards|Preparation days|Run sheet|Packing list",
            text,
        )


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("stage", ["draft", "approved"])
def test_no_word_is_lost_on_paper(printed: Print, files: dict[str, Path], paper: str, stage: str) -> None:
    soup = BeautifulSoup(files[stage].read_text("utf-8"), "html.parser")
    for unseen in soup.select(".alone, .screen, style, title"):
        unseen.decompose()
    letters = Counter("".join(soup.get_text().replace("\u2060", "").split()))  # a word joiner is no letter
    on_paper = Counter("".join(printed(paper, stage).texts()).replace(" ", ""))
    assert sum(letters.values()) > 5000
    assert letters - on_paper == Counter()


@pytest.mark.parametrize("paper", PAPERS)
def test_nothing_stands_outside_the_text_area(printed: Print, paper: str) -> None:
    found = printed(paper, "approved")
    side, bottom = (edge / POINT - 2 for edge in MARGINS)  # the foot of a J hangs out by as much
    for page in found.pages:
        for word in page:
            assert side <= word["x0"], word
            assert word["x1"] <= found.width - side, word
            foot = word["top"] > found.height - bottom
            assert foot or word["bottom"] <= found.height - bottom, word


@pytest.mark.parametrize("paper", PAPERS)
def test_no_pull_block_is_split(printed: Print, paper: str) -> None:
    pull = printed(paper, "approved", "#pull").texts()
    begun = [len(re.findall(r"bench \w{3},|built at the place|the couple collect", text)) for text in pull]
    summed = [len(re.findall(r"stems? in (?:all|each)", text)) for text in pull]
    assert sum(summed) > 10
    assert begun == summed


@pytest.mark.parametrize(("paper", "middle"), [("A4", 297 / 2), ("Letter", 279.4 / 2)])
def test_build_cards_are_cut_in_the_middle_of_the_paper(
    browser: Browser, files: dict[str, Path], paper: str, middle: float
) -> None:
    page = browser.new_page()
    page.goto(files["draft"].as_uri() + "#cards")
    data = page.pdf(format=paper)
    page.close()
    with pdfplumber.open(BytesIO(data)) as pdf:
        # What lies below the page is the next one's, which Chromium draws there too and clips.
        tops = [
            [round(float(one["top"]), 1) for one in page.curves if one["top"] < page.height]
            for page in pdf.pages
        ]
    cut = [top * POINT for page in tops for top, dashes in Counter(page).items() if dashes > 50]
    assert len(cut) > 2
    assert all(abs(top - middle) < 1 for top in cut), cut  # millimetres


@pytest.mark.parametrize("paper", PAPERS)
def test_one_sheet_alone_counts_its_own_pages(printed: Print, paper: str) -> None:
    whole, hire = printed(paper, "approved"), printed(paper, "approved", "#hire")
    assert len(hire.pages) < len(whole.pages)
    for i, text in enumerate(hire.texts()):
        assert "Rentals, out and back" in text
        assert f"page {i + 1} of {len(hire.pages)}" in text
        assert "Show all sheets" not in text


def test_the_printer_s_paper_decides(printed: Print) -> None:
    sizes = [(round(printed(paper, "approved", "#hire").width * POINT, 0)) for paper in PAPERS]
    assert sizes == [210, 216]


def test_on_screen_one_sheet_alone_says_how_to_see_the_others(
    browser: Browser, files: dict[str, Path]
) -> None:
    page = browser.new_page()
    page.goto(files["draft"].as_uri())
    page.get_by_role("link", name="Pull list").click()
    seen = [one.get_attribute("id") for one in page.locator(".sheet").all() if one.is_visible()]
    page.get_by_role("link", name="Show all sheets").click()
    after = [one.get_attribute("id") for one in page.locator(".sheet").all() if one.is_visible()]
    page.close()
    assert seen == ["pull"]
    assert after == ["buying", "cost", "goods", "hire", "pull", "cards", "days", "run", "pack"]


def test_nothing_is_loaded_from_elsewhere(browser: Browser, files: dict[str, Path]) -> None:
    page = browser.new_page()
    asked: list[str] = []
    page.on("request", lambda request: asked.append(request.url))
    page.goto(files["draft"].as_uri())
    page.close()
    assert asked == [files["draft"].as_uri()]
