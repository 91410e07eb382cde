"""The florist's own pages in a real Chromium: on a phone and a wide screen, by hand and key, and on paper."""

import datetime as dt
import re
from io import BytesIO
from pathlib import Path
from typing import Literal

import pdfplumber
import pytest
from playwright.sync_api import Browser, Page

from sitegen.choices.picks import usual_picks
from sitegen.choices.table import table
from sitegen.choices.totals import totals
from sitegen.order.order import order
from sitegen.price.event import price_event
from sitegen.render.desk import EVENT_TEMPLATE, INDEX_TEMPLATE, THEME
from sitegen.render.desk_event import Around, event_view
from sitegen.render.desk_index import desk_row, index_view
from sitegen.render.pages import florist_page
from sitegen.theme import SHIPPED, find_theme
from tests.reading import DEMO, read_content

pytestmark = pytest.mark.browser
TODAY = dt.date(2027, 4, 19)
WARNING = (
    "content/stems.yaml:12:3: warning: a long line of content " + "x" * 200 + "\nwhy:  to wrap it\nfix:  -"
)
PAGES = ("index", "event", "empty")
Scheme = Literal["light", "dark"]


@pytest.fixture(scope="module")
def files(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Path]:
    """The demo's list, its largest event, and the list of a studio without events."""
    shared, folders = read_content(DEMO)
    theme, problems = find_theme(THEME, SHIPPED)
    assert theme is not None, problems
    out = tmp_path_factory.mktemp("desk")
    rows, texts = [], {}
    largest = max(folders, key=lambda one: len(one.pieces))
    for folder in folders:
        priced = price_event(shared, folder)
        picks = usual_picks(table(priced))
        sums, worked = totals(table(priced), picks), order(priced, picks, TODAY)
        rows.append(desk_row(priced, sums, worked))
        if folder is largest:
            view = event_view(priced, picks, sums, worked, TODAY, Around((WARNING,)))
            texts["event"] = florist_page(EVENT_TEMPLATE, view, view.language, theme)
    for name, some in (("index", rows), ("empty", [])):
        index = index_view(some, shared.studio, shared.currency, TODAY)
        texts[name] = florist_page(INDEX_TEMPLATE, index, index.language, theme)
    for name, text in texts.items():
        (out / f"{name}.html").write_text(text, encoding="utf-8")
    return {name: out / f"{name}.html" for name in texts}


def opened(
    browser: Browser, path: Path, width: int = 1280, scheme: Scheme = "light", *, script: bool = True
) -> Page:
    context = browser.new_context(
        viewport={"width": width, "height": 800}, color_scheme=scheme, java_script_enabled=script
    )
    page = context.new_page()
    page.goto(path.as_uri())
    return page


@pytest.mark.parametrize("name", PAGES)
@pytest.mark.parametrize("width", [320, 390, 768, 1025, 1280])
def test_nothing_is_wider_than_the_screen(
    browser: Browser, files: dict[str, Path], name: str, width: int
) -> None:
    page = opened(browser, files[name], width)
    page.evaluate("document.querySelectorAll('details').forEach(one => one.open = true)")
    assert page.evaluate("document.documentElement.scrollWidth") <= width
    page.context.close()


@pytest.mark.parametrize("name", PAGES)
def test_a_page_asks_for_nothing_but_itself(browser: Browser, files: dict[str, Path], name: str) -> None:
    asked: list[str] = []
    wrong: list[str] = []
    context = browser.new_context()
    page = context.new_page()
    page.on("request", lambda request: asked.append(request.url))
    page.on("console", lambda message: wrong.append(message.text))
    page.on("pageerror", lambda error: wrong.append(str(error)))
    page.goto(files[name].as_uri(), wait_until="networkidle")
    assert asked == [files[name].as_uri()]
    assert wrong == []
    context.close()


@pytest.mark.parametrize("name", PAGES)
def test_a_thumb_finds_every_link_and_button_on_a_phone(
    browser: Browser, files: dict[str, Path], name: str
) -> None:
    page = opened(browser, files[name], 390)
    small = page.evaluate(
        """[...document.querySelectorAll("a, button, summary")]
        .filter(one => one.getBoundingClientRect().height < 44).map(one => one.textContent)"""
    )
    assert small == []
    page.context.close()


def test_copy_puts_the_command_on_the_clipboard_and_says_so(browser: Browser, files: dict[str, Path]) -> None:
    page = opened(browser, files["index"])
    page.context.grant_permissions(["clipboard-read", "clipboard-write"])
    button = page.locator("button.copy").first
    command = page.locator("code").first.text_content()
    assert button.inner_text().split("\n")[0].startswith("Copy")
    button.focus()
    page.keyboard.press("Enter")
    page.wait_for_function("document.getElementById('said').textContent === 'Copied'")
    assert page.evaluate("navigator.clipboard.readText()") == command
    assert command is not None
    assert re.fullmatch(r"sitegen (send|build|order) [\w-]+( --one-file)?", command)
    page.context.close()


def test_without_a_script_the_commands_are_there_and_the_buttons_are_not(
    browser: Browser, files: dict[str, Path]
) -> None:
    page = opened(browser, files["event"], script=False)
    assert page.locator("code").first.is_visible()
    assert page.locator("button.copy:visible").count() == 0
    page.context.close()


def test_combinations_fold_out_by_key(browser: Browser, files: dict[str, Path]) -> None:
    page = opened(browser, files["event"])
    inner = page.locator(".combinations").first
    assert not inner.is_visible()
    page.locator(".fold summary").first.focus()
    page.keyboard.press("Enter")
    assert inner.is_visible()
    assert inner.locator("tr").count() > 2
    page.context.close()


@pytest.mark.parametrize("width", [320, 390])
def test_on_a_phone_every_amount_carries_its_own_label(
    browser: Browser, files: dict[str, Path], width: int
) -> None:
    page = opened(browser, files["event"], width)
    labels = page.evaluate(
        """[...document.querySelectorAll(".pieces > tbody:first-of-type td.n")]
        .map(one => getComputedStyle(one, "::before").content)"""
    )
    assert labels == ['"how many "', '"each $ "', '"line $ "', '"cost $ "', '"left $ "']
    page.context.close()


@pytest.mark.parametrize("name", ["index", "event"])
@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_on_paper_the_tables_stay_tables_and_nothing_is_cut(
    browser: Browser, files: dict[str, Path], name: str, paper: str
) -> None:
    page = opened(browser, files[name], scheme="dark")
    pdf = page.pdf(format=paper)
    with pdfplumber.open(BytesIO(pdf)) as read:
        words = [word for sheet in read.pages for word in sheet.extract_words()]
        edges = [
            (word["x0"] >= 30, word["x1"] <= sheet.width - 30)
            for sheet in read.pages
            for word in sheet.extract_words()
        ]
        count = len(read.pages)
        ink = {char["non_stroking_color"] for sheet in read.pages for char in sheet.chars}
    told = {word["text"] for word in words}
    assert count <= (1 if name == "index" else 2)
    assert all(left and right for left, right in edges)
    assert "Copy" not in told
    assert "copy" in told if name == "index" else {"Piece", "Picked"} <= told
    assert all(len(set(colour)) == 1 and max(colour) < 0.3 for colour in ink), ink  # grey or black alone
    page.context.close()
