"""The couple's page in a real Chromium: at rest, while they choose, on small screens, and on paper."""

from collections.abc import Iterator
from pathlib import Path
from random import Random
from typing import Any

import pytest
from playwright.sync_api import Browser, Page

from sitegen.choices.picks import Picks, each_of, usual_picks
from sitegen.choices.table import Table, table
from sitegen.choices.totals import totals
from sitegen.price.event import price_event
from sitegen.price.priced import PricedEvent
from sitegen.render.estimate import payable, received
from sitegen.render.pages import couple_page
from sitegen.render.photos import linked
from sitegen.render.proposal import Photos, couple_view
from sitegen.render.voice import Voice, voice_for
from tests.browser.drawn import some_picks
from tests.paper import read
from tests.reading import DEMO, read_content
from tests.render import sample

pytestmark = pytest.mark.browser

SHOWN = """() => [...document.querySelectorAll("[data-figure], .stems tbody tr, #differences li, .yours")].map(
  one => [one.dataset.figure ?? one.className, one.textContent.replace(/\\s+/g, " ").trim(), one.hidden])"""


@pytest.fixture(scope="module")
def large() -> PricedEvent:
    """The demo's largest event."""
    shared, folders = read_content(DEMO)
    return price_event(shared, max(folders, key=lambda folder: len(folder.pieces)))


@pytest.fixture(scope="module")
def folder(large: PricedEvent, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The demo's largest event and the sample, as pages without picture files."""
    out = tmp_path_factory.mktemp("pages")
    without = Photos({}, None, linked("pictures"))
    events = {
        "large": large,
        "sample": sample.priced(),
        "names": sample.priced(studio={"show_stems": "names"}),
    }
    for name, event in events.items():
        html = couple_page(couple_view(event, without), sample.theme())
        (out / f"{name}.html").write_text(html, encoding="utf-8")
    return out


@pytest.fixture
def opened(browser: Browser, folder: Path) -> Iterator[Page]:
    """The large event on a phone; a word on the console or a request to elsewhere fails the test."""
    context = browser.new_context(viewport={"width": 390, "height": 844})
    page = context.new_page()
    complaints: list[str] = []
    page.on("console", lambda message: complaints.append(message.text))
    page.on("pageerror", lambda error: complaints.append(str(error)))
    page.on("request", lambda request: complaints.append(request.url) if "file:" not in request.url else None)
    page.goto((folder / "large.html").as_uri())
    yield page
    context.close()
    assert complaints == []


@pytest.mark.parametrize("name", ["large", "sample", "names"])
def test_at_rest_the_script_changes_nothing(name: str, browser: Browser, folder: Path) -> None:
    """So without JavaScript the page says the same, and both write every figure alike."""
    said = []
    for runs in (True, False):
        context = browser.new_context(java_script_enabled=runs)
        page = context.new_page()
        page.goto((folder / f"{name}.html").as_uri())
        said.append(page.evaluate(SHOWN))
        context.close()
    assert len(said[0]) > 30
    assert said[0] == said[1]


@pytest.mark.parametrize("runs", [True, False])
def test_without_a_script_nothing_can_be_ticked_that_nothing_follows(
    runs: bool, browser: Browser, folder: Path
) -> None:
    page = browser.new_page(java_script_enabled=runs)
    page.goto((folder / "large.html").as_uri())
    inputs = page.locator("#main input, main input")
    assert inputs.count() > 20
    assert page.locator("main input:disabled").count() == (0 if runs else inputs.count())
    page.close()


def choose(page: Page, prices: Table, picks: Picks) -> None:
    """Pick everything at once, as a couple would one by one."""
    page.evaluate(
        """([pieces, charges]) => {
          pieces.forEach(({ answers, quantity, out }, i) => {
            answers.forEach((a, c) => {
              document.querySelectorAll(`#piece-${i + 1}-${c + 1} input`)[a].checked = true;
            });
            const count = document.getElementById(`piece-${i + 1}-count`);
            const box = document.getElementById(`piece-${i + 1}-out`);
            if (count) count.value = quantity;
            if (box) box.checked = out;
          });
          for (const i of charges) document.getElementById(`charge-${i + 1}-in`).checked = true;
          document.dispatchEvent(new Event("input"));
        }""",
        [
            [{"answers": one.answers, "quantity": one.quantity, "out": one.out} for one in picks.pieces],
            sorted(picks.charges),
        ],
    )
    assert len(prices.pieces) == len(picks.pieces)


def figure(page: Page, name: str) -> str:
    return page.locator(f'[data-figure="{name}"]').first.inner_text()


def voice_of(event: PricedEvent) -> Voice:
    return voice_for(event.shared.studio.language, event.shared.currency)


@pytest.mark.parametrize("seed", range(8))
def test_every_figure_follows_the_picks(seed: int, opened: Page, large: PricedEvent) -> None:
    prices, voice = payable(large, table(large), usual_picks(table(large))), voice_of(large)
    picks = some_picks(prices, Random(seed))
    choose(opened, prices, picks)
    sums = totals(prices, picks)
    assert figure(opened, "total") == voice.money.exact(sums.total)
    assert figure(opened, "subtotal") == voice.money.exact(sums.subtotal)
    assert figure(opened, "discount") == voice.money.exact(-sums.discount)
    assert figure(opened, "still") == voice.money.exact(sums.total - received(large))
    for i, amount in list(enumerate(sums.payments))[1:]:  # what came in stands first, and does not follow
        assert figure(opened, f"payment-{i + 1}") == voice.money.exact(amount)
    for i, amount in enumerate(sums.tax):
        assert figure(opened, f"tax-{i + 1}") == voice.money.exact(amount)
    for i, (piece, pick) in enumerate(zip(prices.pieces, picks.pieces, strict=True)):
        each_said, line = voice.each_and_line(each_of(piece, pick.answers), pick.quantity)
        assert figure(opened, f"piece-{i + 1} line") == line
        if pick.quantity != 1:
            assert figure(opened, f"piece-{i + 1} each") == each_said
        told = "left out" if pick.out else voice.money.exact(sums.lines[i])
        assert figure(opened, f"piece-{i + 1} amount") == told


def test_an_answer_leads_to_the_total_it_says(opened: Page) -> None:
    for row in opened.locator("fieldset .answer:not(:has(:checked))").all()[:6]:
        promised = row.locator(".leads").inner_text().removeprefix("total ")
        row.click()
        assert figure(opened, "total") == promised


def test_stems_follow_answers_and_counts(browser: Browser, folder: Path) -> None:
    page = browser.new_page()
    page.goto((folder / "sample.html").as_uri())
    page.click("#piece-1 summary")
    rows = page.locator("#piece-1-stems tr")
    assert rows.all_inner_texts()[2].split("\t") == ["Olive", "about 4 across 5"]
    page.click("#piece-1-1 label:last-of-type")
    page.click("#piece-1-2 label:last-of-type")
    page.click("#piece-1-count + button")
    assert [text.split("\t") for text in rows.all_inner_texts()] == [
        ["Garden rose, cream", "5", "30"],
        ["Larkspur", "2", "12"],
        ["Olive", "1", "6"],
    ]
    assert page.inner_text("#piece-1 .tally") == "8 stems in each"
    page.close()


def test_your_choices_list_what_differs_and_go_back_when_asked(opened: Page) -> None:
    at_rest = opened.evaluate(SHOWN)
    opened.click("#piece-2-1 label:last-of-type")
    opened.click("#piece-2-count + button")
    opened.check("#piece-5-out")
    opened.check("#charge-2-in")
    listed = opened.locator("#differences li").all_inner_texts()
    assert len(listed) == 4
    assert "Fuller, instead of As shown; 6, instead of 5" in listed[0]
    assert "left out" in listed[1]
    assert listed[3].startswith("Everything else")
    assert figure(opened, "differs") == "4 choices of yours"
    assert opened.locator("#piece-2-1 .yours").is_visible()
    opened.once("dialog", lambda dialog: dialog.dismiss())
    opened.click("#back")
    assert figure(opened, "differs") == "4 choices of yours"
    opened.once("dialog", lambda dialog: dialog.accept())
    opened.click("#back")
    assert opened.evaluate(SHOWN) == at_rest


def test_a_count_stays_within_its_bounds(opened: Page) -> None:
    count = opened.locator("#piece-2-count")
    for typed, kept in (("99", "7"), ("0", "4"), ("", "4"), ("5.4", "5")):
        count.fill(typed)
        count.blur()
        assert count.input_value() == kept
    for _ in range(5):
        opened.click("#piece-2-count + button")
    assert count.input_value() == "7"


def test_the_keyboard_alone_can_choose(opened: Page) -> None:
    before = figure(opened, "total")
    opened.locator("#piece-2-1 input:checked").focus()
    opened.keyboard.press("ArrowDown")
    assert figure(opened, "total") != before
    opened.locator("#piece-5-out").focus()
    opened.keyboard.press("Space")
    assert opened.locator("#piece-5.out").count() == 1


def test_what_a_thumb_reaches_for_is_large_enough(opened: Page) -> None:
    """44 CSS pixels: WCAG 2.2, success criterion 2.5.5 (level AAA), asked of whole rows and buttons."""
    opened.click("#piece-2-1 label:last-of-type")
    opened.evaluate("document.querySelectorAll('details').forEach(one => one.open = true)")
    small: list[Any] = opened.evaluate(
        """() => [...document.querySelectorAll(
            ".answer, summary, .button, .stepper button, .stepper input, nav a, .send a, .send button, .quiet, textarea"
          )].filter(one => one.checkVisibility())
          .filter(one => one.getBoundingClientRect().height < 44).map(one => one.outerHTML)"""
    )
    assert small == []


def test_the_total_stays_in_sight_and_is_told(opened: Page) -> None:
    for place in ("#note", "#piece-9", "#estimate", "footer"):
        opened.evaluate(
            "place => document.querySelector(place).scrollIntoView({ behavior: 'instant' })", place
        )
        box = opened.locator(".bar output").bounding_box()
        assert box is not None
        assert 0 < box["y"] < 844 - box["height"]
    assert opened.locator(".bar output").get_attribute("aria-live") == "polite"


@pytest.mark.parametrize(("paper", "size"), [("a4", (595, 842)), ("letter", (612, 792))])
def test_it_prints_on_the_studios_paper(
    paper: str, size: tuple[int, int], browser: Browser, tmp_path: Path
) -> None:
    """ISO 216 A4 is 210 × 297 mm, US Letter 8.5 × 11 in; here in points of 1/72 in."""
    path = tmp_path / "page.html"
    path.write_text(sample.page(studio={"paper": paper}), encoding="utf-8")
    page = browser.new_page()
    page.goto(path.as_uri())
    printed = page.pdf(prefer_css_page_size=True)
    page.close()
    found = read(printed)
    assert {(round(width), round(height)) for width, height in found.sizes} == {size}
    texts = found.texts()
    assert "Ada Lind" in texts[0]
    assert "Olive" in "".join(texts)
    assert "The estimate" in "".join(texts)
    assert "Your choices" in "".join(texts)
    for control in ("See and send", "Write us a note", "Copy the message", "Read the message"):
        assert not any(control in text for text in texts)
