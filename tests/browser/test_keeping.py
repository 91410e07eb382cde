"""What a couple chose and wrote: noted, kept on their phone, brought back on a later page, and fixed in the end."""

import datetime as dt
import json
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, BrowserContext, Page

from sitegen.render.pages import couple_page
from sitegen.render.proposal import couple_view
from sitegen.render.standing import Standing, approved
from sitegen.render.voice import voice_for
from tests import make
from tests.render import sample

pytestmark = pytest.mark.browser

DAY = dt.date(2031, 2, 1)
CLOSES = dt.date(2031, 5, 17)  # the sample's day, 2031-06-14, less its 28 days
Put = Callable[..., str]


@pytest.fixture
def put(tmp_path: Path) -> Put:
    """Write a version of the sample's page, always at the same address."""

    def write(*pieces: dict[str, Any], standing: Standing | None = None, **more: Any) -> str:
        view = couple_view(sample.priced(*pieces, **more), sample.photos(), standing or Standing(DAY, DAY))
        path = tmp_path / "proposal.html"
        path.write_text(couple_page(view, sample.theme()), encoding="utf-8")
        return path.as_uri()

    return write


@pytest.fixture
def phone(browser: Browser) -> Iterator[BrowserContext]:
    """One couple's phone, on a day long before changes close; a failing script fails the test."""
    context = browser.new_context(viewport={"width": 390, "height": 844})
    complaints: list[str] = []
    context.on("weberror", lambda error: complaints.append(str(error.error)))
    yield context
    context.close()
    assert complaints == []


def visit(phone: BrowserContext, address: str, day: dt.date = DAY) -> Page:
    page = phone.new_page()
    page.clock.set_fixed_time(dt.datetime.combine(day, dt.time(12)))
    page.goto(address)
    page.wait_for_selector("html.live")
    return page


def note(page: Page, key: str, text: str) -> None:
    page.locator(f"details:has(#{key}-note) summary").click()
    page.fill(f"#{key}-note", text)


def choose(page: Page) -> None:
    page.click("#piece-1-1 label:last-of-type")
    page.click("#piece-1-count + button")
    page.check("#piece-2-out")
    page.check("#charge-2-in")
    note(page, "piece-1", "No lilies, please")
    note(page, "general", "Thank you")


def listed(page: Page) -> list[str]:
    return [" ".join(text.split()) for text in page.locator("#differences li").all_inner_texts()]


def test_two_windows_of_one_phone_follow_each_other(phone: BrowserContext, put: Put) -> None:
    address = put()
    first, second = visit(phone, address), visit(phone, address)
    first.click("#piece-1-1 label:last-of-type")
    second.wait_for_function("document.getElementById('differences').children.length === 2")
    assert listed(second) == listed(first)
    note(second, "general", "Thank you")
    second.check("#piece-2-out")
    first.wait_for_function("document.getElementById('piece-2-out').checked")
    assert listed(first) == listed(second)
    assert first.input_value("#general-note") == "Thank you"
    third = visit(phone, address)
    assert listed(third) == listed(first)


def test_what_was_chosen_survives_closing_the_page(phone: BrowserContext, put: Put) -> None:
    first = visit(phone, put())
    assert first.locator("#kept").is_hidden()
    choose(first)
    assert first.inner_text("#kept") == "Kept on this phone until you send them."
    before, total = listed(first), first.inner_text(".bar output")
    first.close()
    again = visit(phone, put())
    assert (listed(again), again.inner_text(".bar output")) == (before, total)
    assert "with a note" in before[0]
    assert again.input_value("#piece-1-note") == "No lilies, please"
    assert again.input_value("#general-note") == "Thank you"
    assert again.inner_text("#kept") == "Kept on this phone until you send them."
    assert again.locator("#unfit").is_hidden()


def test_looking_alone_keeps_nothing(phone: BrowserContext, put: Put) -> None:
    page = visit(phone, put())
    assert page.evaluate("localStorage.length") == 0


def test_pages_of_two_events_do_not_meet(phone: BrowserContext, put: Put) -> None:
    choose(visit(phone, put()))
    other = visit(phone, put(studio={"studio": "Another Studio"}))
    assert listed(other) == ["Everything as we suggest"]


def test_going_back_asks_first_and_leaves_the_notes(phone: BrowserContext, put: Put) -> None:
    page = visit(phone, put())
    choose(page)
    page.once("dialog", lambda dialog: dialog.dismiss())
    page.click("#back")
    assert len(listed(page)) == 4
    page.once("dialog", lambda dialog: dialog.accept())
    page.click("#back")
    assert page.input_value("#piece-1-note") == "No lilies, please"
    assert listed(visit(phone, put())) == [
        "Attendants' bouquets with a note",
        "Everything else as we suggest",
    ]


CHANGED = sample.BOUQUETS | {
    "quantity": {"usual": "4", "from": "3", "to": "5"},
    "choices": [
        make.choice(
            "fullness", {"id": "shown", "label": "As shown"}, {"id": "smaller", "label": "A little smaller"}
        ),
        make.choice("colour", {"id": "new", "label": "Peach"}, {"id": "cream", "label": "All cream"}),
    ],
}


def test_a_new_version_keeps_what_still_fits_and_lists_the_rest(phone: BrowserContext, put: Put) -> None:
    page = visit(phone, put())
    choose(page)
    page.click("#piece-1-2 label:last-of-type")  # all cream: stands second on both
    page.click("#piece-1-3 label:last-of-type")  # a long trail: no longer asked
    page.click("#piece-1-count + button")  # seven: no longer possible
    note(page, "piece-2", "In the shade?")
    later = visit(phone, put(sample.TABLES, CHANGED, studio={"charges": []}))
    rows = later.locator("#unfit li").all_inner_texts()
    assert sorted(rows) == sorted(
        [
            "Attendants' bouquets: “Fuller” is no longer offered.",
            "Attendants' bouquets: “tie?” is no longer asked. You had: Long trail",
            "Attendants' bouquets: 7 is no longer possible, so it stands at 5.",
            "Arch: no longer in the proposal. You had: left out; your note “In the shade?”",
            "“Late collection” is no longer offered.",
        ]
    )
    assert listed(later)[0].startswith("Attendants' bouquets")
    assert "All cream, instead of Peach; 5, instead of 4; with a note" in listed(later)[0]
    assert later.inner_text("#unfit-brief") == "5 no longer fit"
    assert later.input_value("#piece-2-note") == "No lilies, please"
    again = visit(phone, put(sample.TABLES, CHANGED, studio={"charges": []}))
    assert again.locator("#unfit li").count() == 5
    again.click("#unfit-seen")
    assert again.locator("#unfit").is_hidden()
    assert visit(phone, put(sample.TABLES, CHANGED, studio={"charges": []})).locator("#unfit").is_hidden()


def test_what_cannot_be_left_out_any_more_is_told(phone: BrowserContext, put: Put) -> None:
    visit(phone, put()).check("#piece-2-out")
    page = visit(phone, put(sample.BOUQUETS, sample.ARCH | {"optional": "no"}, sample.TABLES))
    assert page.locator("#unfit li").all_inner_texts() == ["Arch: it can no longer be left out."]
    assert listed(page) == ["Everything as we suggest"]


@pytest.mark.parametrize(
    "kept",
    ["", "{", "null", "[]", "7", '{"book":{}}', '{"book":{"lost":[]},"chosen":{"pieces":[["bouquets",{}]]}}'],
)
def test_a_spoiled_store_is_an_empty_one(kept: str, phone: BrowserContext, put: Put) -> None:
    page = visit(phone, put())
    page.click("#piece-1-1 label:last-of-type")
    page.evaluate("kept => { for (const name of Object.keys(localStorage)) localStorage[name] = kept }", kept)
    again = visit(phone, put())
    assert listed(again) == ["Everything as we suggest"]
    again.click("#piece-1-1 label:last-of-type")
    assert len(listed(visit(phone, put()))) == 2


def test_a_browser_that_keeps_nothing_promises_nothing(phone: BrowserContext, put: Put) -> None:
    phone.add_init_script(
        "Object.defineProperty(window, 'localStorage', { get() { throw new DOMException('no', 'SecurityError') } })"
    )
    page = visit(phone, put())
    choose(page)
    assert len(listed(page)) == 4
    assert page.locator("#kept").is_hidden()


def test_a_note_has_500_characters_counted_as_people_count(phone: BrowserContext, put: Put) -> None:
    page = visit(phone, put())
    note(page, "piece-1", "é🌹" * 200)
    assert page.inner_text("#piece-1-note-left") == "100 characters left"
    assert page.get_attribute("#piece-1-note-left", "aria-live") == "off"
    page.fill("#piece-1-note", "🌹" * 499)
    assert page.inner_text("#piece-1-note-left") == "1 character left"
    assert page.get_attribute("#piece-1-note-left", "aria-live") == "polite"
    page.fill("#piece-1-note", "🌹" * 501)
    assert page.input_value("#piece-1-note") == "🌹" * 500


def test_hostile_notes_stay_text(phone: BrowserContext, put: Put) -> None:
    page = visit(phone, put())
    hostile = "<img src=x onerror=alert(1)></textarea><script>alert(2)</script> {name}"
    choose(page)
    page.fill("#piece-1-note", hostile)
    page.check("#piece-2-out")
    again = visit(phone, put(sample.TABLES))
    assert hostile in again.inner_text("#unfit")
    assert again.locator("#choices img, #choices script").count() == 0


# Fixed choices.


def plain(page: Page) -> list[str]:
    """What stands in the first piece of its questions and its count, as it is seen."""
    rows = page.locator("#piece-1 fieldset, #piece-1 .count")
    return [" ".join(text.split()) for text in rows.all_inner_texts()]


FIXED = [
    "fullness? As shown as we suggest",
    "colour? Blush as we suggest",
    "tie? Wrapped ½ yd of Silk ribbon as we suggest",
    "How many? 5",
]
OPEN = ".answer input, .own-note, .send, #back, .stepper button, .stepper input, .bar .button"


def test_until_the_last_day_everything_can_change(phone: BrowserContext, put: Put) -> None:
    page = visit(phone, put(), CLOSES)
    assert page.locator(".bar .button").is_visible()
    assert page.locator("#choices .settled").is_hidden()
    page.click("#piece-1-1 label:last-of-type")
    assert len(listed(page)) == 2


@pytest.mark.parametrize("built", [DAY, CLOSES + dt.timedelta(days=1)])
def test_after_the_last_day_the_page_is_to_read(built: dt.date, phone: BrowserContext, put: Put) -> None:
    """Whether it was built after that day or is looked at after it: both look the same."""
    page = visit(phone, put(standing=Standing(DAY, built)), CLOSES + dt.timedelta(days=1))
    assert plain(page) == FIXED
    assert not [one for one in page.locator(OPEN).all() if one.is_visible()]
    assert "could change until May 17, 2031" in page.inner_text("#choices .settled")
    assert page.inner_text(".bar .settled") == "To change something, please ask Una Test."


def test_built_after_the_last_day_it_is_fixed_without_a_script(browser: Browser, put: Put) -> None:
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto(put(standing=Standing(DAY, CLOSES + dt.timedelta(days=1))))
    assert plain(page) == FIXED
    assert not [one for one in page.locator(OPEN).all() if one.is_visible()]
    context.close()


def test_a_page_left_open_over_night_closes_at_the_next_touch(phone: BrowserContext, put: Put) -> None:
    page = visit(phone, put(), CLOSES)
    before = page.inner_text(".bar output")
    page.clock.set_fixed_time(dt.datetime.combine(CLOSES + dt.timedelta(days=1), dt.time(0, 1)))
    page.click("#piece-1-1 label:last-of-type")
    assert plain(page) == FIXED
    assert page.inner_text(".bar output") == before


def test_once_closed_it_shows_what_the_phone_kept(phone: BrowserContext, put: Put) -> None:
    choose(visit(phone, put()))
    page = visit(phone, put(), CLOSES + dt.timedelta(days=1))
    assert plain(page)[0].startswith("fullness? your choice Fuller")
    assert plain(page)[3] == "How many? 6"
    assert page.inner_text("#piece-2 .left-out") == "left out"
    assert "What counts is what we confirmed in writing" in page.inner_text("#choices .settled")


def test_an_approved_page_shows_what_was_agreed_whatever_the_phone_kept(
    phone: BrowserContext, put: Put
) -> None:
    choose(visit(phone, put()))
    event = sample.priced()
    voice = voice_for(event.shared.studio.language, event.shared.currency)
    fixed = approved(dt.date(2031, 2, 3), event, voice)
    page = visit(phone, put(standing=Standing(DAY, DAY, frozen=fixed)))
    assert plain(page)[0] == "fullness? As shown as agreed"
    assert page.inner_text(".bar .settled") == "Approved on February 3, 2031"
    assert listed(page) == ["Everything as agreed"]
    assert page.evaluate("localStorage.length") == 1, "what was kept is not thrown away"


def test_prices_that_no_longer_hold_are_told(phone: BrowserContext, put: Put) -> None:
    said = "#choices [data-past]:visible"
    held = visit(phone, put(), dt.date(2031, 3, 3))
    assert held.inner_text(said) == "Prices are held until March 3, 2031."
    past = visit(phone, put(), dt.date(2031, 3, 4))
    assert "please ask us whether they still stand" in past.inner_text(said)


def test_too_small_an_event_is_told_above_the_total(phone: BrowserContext, put: Put) -> None:
    page = visit(phone, put(least="320.00"))
    assert page.locator("#choices .least").is_hidden()
    page.check("#piece-2-out")
    assert "from $320; below that, let us talk" in page.inner_text("#choices .least")


def test_the_name_in_the_store_tells_nothing(phone: BrowserContext, put: Put) -> None:
    page = visit(phone, put())
    choose(page)
    names = json.loads(page.evaluate("JSON.stringify(Object.keys(localStorage))"))
    assert [len(name) for name in names] == [len("sitegen ") + 16]
