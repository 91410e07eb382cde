"""Sending choices back without a server: the message, and each way out of the page."""

import datetime as dt
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any
from urllib.parse import parse_qs, urlsplit

import pytest
from playwright.sync_api import Browser, BrowserContext, Page

from sitegen.render.pages import couple_page
from sitegen.render.proposal import couple_view
from sitegen.render.scripts import joined
from sitegen.render.standing import Standing
from sitegen.reply.notes import LONGEST, notes_in
from tests.render import sample
from tests.seal.scripts import in_node

pytestmark = pytest.mark.browser

# The least of the published limits is 2,003 for a mailto link (Firefox 32 on Windows, 2,008; Internet Explorer
# failed at 2,054), collected at StackOverflow 4473959; ours stays below all of them.
MOST_IN_LINK = 1800
CONTACT = {"name": "Una Test", "email": "una+flowers@studio.example", "phone": "555-0100"}
MODULES = joined("text.js", "notes.js", "send.js")

Opened = Callable[..., Page]


@pytest.fixture
def opened(browser: Browser, tmp_path: Path) -> Iterator[Opened]:
    """The sample's page on a phone that has what *before* gives it."""
    contexts: list[BrowserContext] = []
    complaints: list[str] = []

    def visit(before: str = "", **more: Any) -> Page:
        view = couple_view(
            sample.priced(studio={"contact": CONTACT}, **more),
            sample.photos(),
            Standing(dt.date(2031, 2, 1), dt.date(2031, 2, 1)),
        )
        path = tmp_path / "proposal.html"
        path.write_text(couple_page(view, sample.theme()), encoding="utf-8")
        context = browser.new_context(viewport={"width": 390, "height": 844}, accept_downloads=True)
        contexts.append(context)
        context.on("weberror", lambda error: complaints.append(str(error.error)))
        context.add_init_script(before)
        page = context.new_page()
        page.clock.set_fixed_time(dt.datetime.combine(dt.date(2031, 2, 2), dt.time(12)))
        page.goto(path.as_uri())
        page.wait_for_selector("html.live")
        return page

    yield visit
    for context in contexts:
        context.close()
    assert complaints == []


# What a phone has, and what a desktop in a test lacks: each remembers what it was given.
SHARES = (
    "Navigator.prototype.share = async (given) => "
    "{ window.given = given; if (window.refuses) throw new Error('no') };"
)
COPIES = "if (navigator.clipboard) navigator.clipboard.writeText = async (text) => { window.copied = text };"
COPIES_NOT = "Object.defineProperty(Navigator.prototype, 'clipboard', { get: () => undefined });"
# A mail program opens outside of the browser, where no test can look.
STAYS = "addEventListener('click', (event) => { if (event.target.id === 'send-mail') event.preventDefault() }, true);"


def choose(page: Page, note: str = "No lilies, please") -> None:
    page.click("#piece-1-1 label:last-of-type")
    page.click("#piece-1-count + button")
    page.check("#piece-2-out")
    page.check("#charge-2-in")
    page.locator("#piece-1 .own-note summary").click()
    page.fill("#piece-1-note", note)


def message(page: Page) -> str:
    return page.input_value("#message")


def mail(page: Page) -> tuple[str, str, str]:
    """Address, subject and body of the mail that the page opens: RFC 6068, as the standard library reads it."""
    href = page.get_attribute("#send-mail", "href") or ""
    assert len(href) <= MOST_IN_LINK
    parts = urlsplit(href)
    assert parts.scheme == "mailto"
    fields = parse_qs(parts.query.replace("+", "%2B"), strict_parsing=True)
    return parts.path, fields["subject"][0], fields["body"][0]


def test_the_message_says_what_differs_in_words_and_money(opened: Opened) -> None:
    page = opened()
    choose(page)
    text = message(page)
    assert text.startswith("Our choices: Ada Lind and Ben Okoro · ")
    assert "- Attendants' bouquets: Fuller, instead of As shown; 6, instead of 5 (+$" in text
    assert "- Arch: left out (−$" in text
    assert "- Late collection: added (+$150)" in text
    assert "Everything else as you suggest." in text
    assert f"Total: {page.inner_text('.bar output')}" in text
    assert "Please leave this line in" not in text


def test_with_nothing_chosen_it_says_so(opened: Opened) -> None:
    page = opened()
    assert "Everything as you suggest.\nTotal: " in message(page)


def test_notes_are_found_in_the_message_again(opened: Opened) -> None:
    page = opened()
    choose(page, "No lilies,\nplease [really]: it is for :1 of us")
    page.locator("#choices .own-note summary").click()
    page.fill("#general-note", "Thank you!")
    assert notes_in(message(page)) == {1: "No lilies, please [really]: it is for :1 of us", 4: "Thank you!"}


def test_the_ways_stand_in_order_and_the_first_is_large(opened: Opened) -> None:
    page = opened(SHARES)
    ways = page.locator(".ways-to-send > *")
    assert ways.all_inner_texts() == ["Send…", "Write a mail", "Copy the message", "Save as a file"]
    heights = [(one.bounding_box() or {"height": 0})["height"] for one in ways.all()]
    assert heights[0] > max(heights[1:])
    assert min(heights) >= 44


def test_sharing_hands_on_text_and_never_an_address(opened: Opened) -> None:
    page = opened(SHARES)
    choose(page)
    page.click("#send-share")
    page.wait_for_function("window.given")
    given = page.evaluate("window.given")
    assert given == {"text": message(page)}
    assert "file:" not in given["text"]
    page.wait_for_selector("#send-said:not(:empty)")
    assert (
        page.inner_text("#kept")
        == "You made a message of these on February 2, 2031. They stay on this phone, too."
    )
    page.click("#piece-1-count + button")
    assert page.inner_text("#kept").startswith("Changed since your message of February 2, 2031")


def test_turning_back_in_the_share_sheet_sends_nothing(opened: Opened) -> None:
    page = opened(SHARES + "window.refuses = true;")
    choose(page)
    page.click("#send-share")
    page.wait_for_function("window.given")
    page.wait_for_timeout(50)
    assert page.inner_text("#send-said") == ""
    assert page.inner_text("#kept") == "Kept on this phone until you send them."


def test_without_a_share_sheet_mail_comes_first(opened: Opened) -> None:
    page = opened("delete Navigator.prototype.share;")
    assert page.locator("#send-share").is_hidden()
    assert page.locator(".ways-to-send > :not([hidden])").first.inner_text() == "Write a mail"


def test_a_mail_is_written_to_the_studio_with_a_neutral_subject(opened: Opened) -> None:
    page = opened(STAYS)
    choose(page, "Ünï & 50 % + more? #1")
    address, subject, body = mail(page)
    assert address == "una+flowers@studio.example"
    assert subject == "Our choices"
    assert body.replace("\r\n", "\n") == message(page)
    assert "\r\n" in body
    page.click("#send-mail")
    page.wait_for_selector("#send-said:not(:empty)")
    assert "please send it there" in page.inner_text("#send-said")


def test_a_message_too_long_for_a_link_is_copied_whole(opened: Opened) -> None:
    page = opened(STAYS + COPIES)
    choose(page, "🌹" * LONGEST)
    address, _, body = mail(page)
    assert address == "una+flowers@studio.example"
    assert body == "The rest was copied and did not fit in here. Please paste it below:"
    page.click("#send-mail")
    page.wait_for_function("window.copied")
    assert page.evaluate("window.copied") == message(page)
    assert "🌹" * LONGEST in message(page)
    page.wait_for_selector("#send-said:not(:empty)")
    assert "too long" in page.inner_text("#send-said")


def test_half_a_letter_breaks_no_link(opened: Opened) -> None:
    page = opened()
    choose(page)
    page.evaluate("""() => {
        document.getElementById("piece-1-note").value = "a \\ud83c b";
        document.getElementById("piece-1-note").dispatchEvent(new Event("input", { bubbles: true }));
    }""")
    assert "a \ufffd b" in mail(page)[2]


def test_copying_shows_the_message_too(opened: Opened) -> None:
    page = opened(COPIES)
    choose(page)
    assert not page.locator("#message").is_visible()
    page.click("#send-copy")
    page.wait_for_selector("#message", state="visible")
    assert page.evaluate("window.copied") == message(page)
    assert page.locator("#message").evaluate("one => one.readOnly")
    assert page.get_attribute("#send-said", "role") == "status"


def test_without_a_clipboard_the_message_is_there_to_select(opened: Opened) -> None:
    page = opened(COPIES_NOT)
    choose(page)
    page.click("#send-copy")
    page.wait_for_selector("#message", state="visible")
    assert page.inner_text("#send-said") == "Please copy the message below."
    assert page.evaluate("document.getSelection().toString()") == message(page)


def test_a_file_holds_the_message(opened: Opened) -> None:
    page = opened()
    choose(page)
    with page.expect_download() as waiting:
        page.click("#send-file")
    assert waiting.value.suggested_filename == "our-choices.txt"
    assert Path(waiting.value.path()).read_text("utf-8") == message(page)


def test_the_page_says_what_sending_means(opened: Opened) -> None:
    said = opened().inner_text("#choices")
    assert (
        "What you send is a wish. We confirm it in writing, and nothing is final until we both sign." in said
    )


def test_without_a_mail_address_a_mail_still_opens(browser: Browser, tmp_path: Path) -> None:
    path = tmp_path / "page.html"
    path.write_text(sample.page(), encoding="utf-8")
    page = browser.new_page()
    page.goto(path.as_uri())
    page.wait_for_selector("html.live")
    assert (page.get_attribute("#send-mail", "href") or "").startswith("mailto:")
    page.close()


# A page that makes codes: the reading copy with a maker, as a sealed page has one.

MADE = """
window.asked = [];
const start = (maker) => startChoosing(document.getElementById("figures").textContent, { keeper: thisBrowser, makeCode: maker });
await start(async (said) => { window.asked.push(JSON.parse(JSON.stringify(said))); return "code" in window ? window.code : "TRUG1-12345-BUD" });
"""


@pytest.fixture
def coding(browser: Browser, tmp_path: Path) -> Iterator[Page]:
    html = sample.page(studio={"contact": CONTACT})
    start = 'startChoosing(document.getElementById("figures").textContent,{keeper:thisBrowser});'
    assert html.count(start) == 1
    path = tmp_path / "coding.html"
    path.write_text(html.replace(start, MADE), encoding="utf-8")
    context = browser.new_context()
    context.add_init_script(COPIES + STAYS)
    page = context.new_page()
    page.goto(path.as_uri())
    page.wait_for_selector("html.live")
    yield page
    context.close()


def test_the_code_is_asked_for_what_the_page_shows(coding: Page) -> None:
    choose(coding)
    coding.wait_for_function("document.getElementById('message').value.includes('No lilies')")
    said = coding.evaluate("window.asked.at(-1)")
    assert said["notes"] == [[1, "No lilies, please"]]
    assert said["picks"]["pieces"][0] == {"answers": [1, 0, 0], "quantity": 6, "out": False}
    assert said["picks"]["charges"] == [1]
    assert f"${said['total'] / 100:,.2f}" == coding.inner_text(".bar output")
    assert 0 <= said["phone"] < 1 << 16
    assert message(coding).endswith("Please leave this line in:\nTRUG1-12345-BUD")
    assert mail(coding)[2].endswith("TRUG1-12345-BUD")


def test_messages_are_counted_and_the_same_one_is_not_a_new_one(coding: Page) -> None:
    def turn() -> tuple[int, int]:
        said = coding.evaluate("window.asked.at(-1)")
        return said["phone"], said["turn"]

    choose(coding)
    phone, first = turn()
    assert first == 0
    for _ in range(2):
        coding.click("#send-copy")
        coding.wait_for_selector("#send-said:not(:empty)")
    assert turn() == (phone, 0)
    coding.click("#piece-1-count + button")
    assert turn() == (phone, 1)
    coding.click("#piece-1-count + button + button, #piece-1 [data-step='-1']")
    assert turn() == (phone, 0), "what says the same as the last message is that message"
    coding.reload()
    coding.wait_for_selector("html.live")
    assert turn() == (phone, 0)


@pytest.mark.parametrize(
    ("summary", "note", "kept"),
    [(10, 10, "snc"), (1600, 10, "nc"), (1600, 1600, "c"), (10, 1700, "c"), (0, 0, "c")],
)
def test_the_code_is_never_left_out_of_a_link(summary: int, note: int, kept: str) -> None:
    """Leave out the summary first, then the notes; of a code, not a letter."""
    given = {"summary": "s" * summary, "notes": "n" * note, "code": f"TRUG1-{'C' * 130}-BUD"}
    words = {"leave": "Please leave this line in:", "paste": "Paste here:", "subject": "Our choices"}
    run = f"{MODULES}\nreturn mailLink('una@studio.example', ...given);"
    made = in_node(run, [given, words])
    body = parse_qs(urlsplit(made["href"]).query)["body"][0]
    assert len(made["href"]) <= MOST_IN_LINK
    assert given["code"] in body
    assert ("sss" in body, "nnn" in body) == ("s" in kept, "n" in kept)
    assert made["short"] == (summary + note > 100)
    assert ("Paste here:" in body) == made["short"]


def test_a_code_that_fills_a_link_alone_still_goes_whole() -> None:
    words = {"leave": "Keep:", "paste": "Paste:", "subject": "Our choices"}
    given = [{"summary": "s", "notes": "", "code": "C" * 2100}, words]
    made = in_node(f"{MODULES}\nreturn mailLink('', ...given);", given)
    assert "C" * 2100 in made["href"]


def test_a_proposal_that_no_code_can_hold_sends_its_summary(coding: Page) -> None:
    coding.evaluate("window.code = null")
    choose(coding)
    assert "Fuller, instead of As shown" in message(coding)
    assert "Please leave this line in" not in message(coding)
