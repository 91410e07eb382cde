"""What a couple may ask of the demo's largest event, whatever theme it is set in: at rest, and once they chose."""

from collections.abc import Mapping
from pathlib import Path

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, Page

from sitegen.price.event import price_event
from sitegen.render.pages import couple_page
from sitegen.render.photos import linked
from sitegen.render.proposal import Photos, couple_view
from tests.browser.looking import cut, open_all, spills
from tests.reading import DEMO, read_content
from tests.render import sample

pytestmark = pytest.mark.browser

THEMES = ("north-window", "market-day", "recipe-box")
AT_REST = {"100%": (320, 1100)}
CHOSEN = {"100%": (390, 768, 1280, 1920), "200%": (320, 1280)}
WCAG = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"]
CHOOSE = """() => {
  for (const choice of document.querySelectorAll("fieldset")) choice.querySelector(".answer:last-of-type").click();
  document.querySelectorAll(".stepper button:last-child").forEach((one) => one.click());
  document.querySelectorAll("[type=checkbox]").forEach((one) => one.click());
}"""
SMALL = """() => [...document.querySelectorAll(
    ".answer, summary, .button, .stepper *, nav a, footer a, .send a, .send button, .quiet, textarea, tr.line")]
  .filter((one) => one.checkVisibility() && one.getBoundingClientRect().height < 43.9)
  .map((one) => one.outerHTML.slice(0, 90))"""


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The largest event in every theme, without picture files."""
    out = tmp_path_factory.mktemp("themes")
    shared, folders = read_content(DEMO)
    event = price_event(shared, max(folders, key=lambda one: len(one.pieces)))
    view = couple_view(event, Photos({}, None, linked("pictures")))
    for theme in THEMES:
        (out / f"{theme}.html").write_text(couple_page(view, sample.theme(theme)), encoding="utf-8")
    return out


def misfits(page: Page, tried: Mapping[str, tuple[int, ...]]) -> dict[str, list[str]]:
    """What does not fit, with text of these sizes on screens of these widths."""
    found = {}
    for size, widths in tried.items():
        page.evaluate("size => (document.documentElement.style.fontSize = size)", size)
        for width in widths:
            page.set_viewport_size({"width": width, "height": 844})
            found[f"{size} at {width} px"] = spills(page) + cut(page)
    page.evaluate("document.documentElement.style.fontSize = ''")
    return {where: what for where, what in found.items() if what}


@pytest.mark.parametrize("theme", THEMES)
def test_a_theme_fits_every_screen_before_and_after_choosing(
    theme: str, browser: Browser, folder: Path
) -> None:
    """Sources: WCAG 2.2, 1.4.10 (reflow), 1.4.4 (text at 200 %), 2.5.5 (targets of 44 px)."""
    page = browser.new_page()
    said: list[str] = []
    page.on("console", lambda message: said.append(message.text))
    page.on("pageerror", lambda error: said.append(str(error)))
    page.goto((folder / f"{theme}.html").as_uri())
    assert misfits(page, AT_REST) == {}
    page.evaluate(CHOOSE)
    open_all(page)
    assert misfits(page, CHOSEN) == {}
    page.set_viewport_size({"width": 390, "height": 844})
    assert page.evaluate(SMALL) == []
    assert said == []
    page.close()


@pytest.mark.parametrize(("theme", "scheme"), [*zip(THEMES, ("dark", "dark", "light"), strict=True)])
def test_axe_finds_nothing(theme: str, scheme: str, browser: Browser, folder: Path) -> None:
    """Source: axe-core's rules for WCAG 2.2 A and AA. `tests/bench/looks.py` asks in every light and on every screen."""
    context = browser.new_context(
        viewport={"width": 390, "height": 844},
        color_scheme=scheme,  # type: ignore[arg-type]  # one of the two it knows
        reduced_motion="reduce",
    )
    page = context.new_page()
    page.goto((folder / f"{theme}.html").as_uri())
    page.evaluate(CHOOSE)
    found = Axe().run(page, options={"runOnly": WCAG, "resultTypes": ["violations"]}).response["violations"]
    context.close()
    assert [(one["id"], one["nodes"][0]["html"]) for one in found] == []
