"""Every way in which a sealed page may not open: a calm sentence of its own, and a way out."""

import base64
import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect

from sitegen.seal.bundle import Bundle, Sealed, seal_bundle
from sitegen.seal.cover import Cover, cover_text, read_cover
from sitegen.seal.failure import Failure
from sitegen.seal.keys import Secrets, choose_link, new_secrets, with_phrase
from sitegen.seal.link import _check, address, fragment
from sitegen.seal.opening import open_page
from tests.browser.sealing import (
    Site,
    Watch,
    open_it,
    sealed_site,
    serving_instead,
    state,
    watched,
    with_sum,
)
from tests.waiting import until

pytestmark = pytest.mark.browser

READY = "A proposal is waiting for you here."
NO_KEY = "This link arrived without its last part."
CUT = "The end of this link is missing."
CHANGED = "A letter of this link is not as it was sent."
REPLACED = "This proposal was replaced or withdrawn."
DAMAGED = "This page did not arrive whole."
OLD = "This copy of the page is too old for its link."


@pytest.fixture(scope="module")
def site(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Site]:
    with sealed_site(tmp_path_factory.mktemp("sealed")) as found:
        yield found


@pytest.fixture
def watch(browser: Browser) -> Iterator[Watch]:
    with watched(browser) as found:
        yield found


def other(site: Site) -> str:
    """A whole link of this folder with another key, as after a renewal."""
    return fragment(choose_link(Secrets(site.own.pid, b"0123456789abcdef")))


def newer(site: Site) -> str:
    """A link of a later version, sound in itself."""
    key = "c2" + site.key[2:28]
    return key + _check("c2", site.own.pid, site.own.choose)


def swapped(key: str) -> str:
    return key[:10] + ("0" if key[10] != "0" else "1") + key[11:]


def test_each_link_has_its_own_sentence_and_a_box_to_paste_a_better_one(site: Site, watch: Watch) -> None:
    said = {}
    for key in ("", "piece-2", site.key[:20], swapped(site.key), newer(site)):
        watch.page.goto("about:blank")
        watch.page.goto(site.at(key))
        said[key] = state(watch.page)
        if key != newer(site):
            watch.page.locator("#pasted").fill(f"Hello, here it is:\n> {site.at(site.key)}\nBea")
            watch.page.locator("#paste button").click()
            watch.page.locator("#mount h1").wait_for()
            assert watch.page.url == site.at(site.key)
    assert list(said.values()) == [NO_KEY, NO_KEY, CUT, CHANGED, OLD]
    assert watch.said == []


def test_a_link_that_was_replaced_opens_nothing_and_says_so(site: Site, watch: Watch) -> None:
    watch.page.goto(site.at(other(site)))
    assert state(watch.page) == READY
    watch.page.locator("#open").click()
    expect(watch.page.locator("#shell h1:visible")).to_have_text(REPLACED)
    expect(watch.page.locator("#paste")).to_be_visible()


def test_a_bad_paste_is_told_and_can_be_mended(site: Site, watch: Watch) -> None:
    watch.page.goto(site.at())
    state(watch.page)
    watch.page.locator("#pasted").fill(site.at(site.key[:12]))
    watch.page.locator("#paste button").click()
    expect(watch.page.locator("#shell h1:visible")).to_have_text(CUT)
    assert watch.page.evaluate("document.activeElement.tagName") == "H1"
    watch.page.locator("#pasted").fill(site.key)
    watch.page.locator("#paste button").click()
    watch.page.locator("#mount h1").wait_for()


def test_a_pasted_link_of_another_proposal_leads_there(site: Site, watch: Watch) -> None:
    away = choose_link(new_secrets())
    watch.page.goto(site.at())
    state(watch.page)
    there = address(site.base.rstrip("/"), away)
    serving_instead(watch.page, there.split("#")[0], "<title>there</title>")
    watch.page.locator("#pasted").fill(there)
    watch.page.locator("#paste button").click()
    watch.page.wait_for_url(there)


def test_another_link_in_the_same_tab_is_taken_up(site: Site, watch: Watch) -> None:
    page = watch.page
    page.goto(site.at(site.key[:20]))
    assert state(page) == CUT
    page.evaluate("(key) => { location.hash = key }", site.key)
    expect(page.locator("#shell h1:visible")).to_have_text(READY)
    open_it(page)
    page.evaluate("location.hash = 'choices'")
    until(page, "(url) => location.href === url", site.at(site.key))
    expect(page.locator("#mount h1")).to_be_visible()
    with page.expect_navigation():
        page.evaluate("(key) => { location.hash = key }", other(site))
    assert state(page) == READY


def damages(site: Site) -> dict[str, tuple[str, str]]:
    """Texts that a page may carry, and what is said of them."""
    text = site.carried()
    data = bytearray(base64.b64decode(text)[:-4])
    later, foreign = bytearray(data), bytearray(data)
    later[4] = 9
    foreign[:4] = b"ABCD"
    cover = read_cover(text)
    assert isinstance(cover, Cover)
    flipped = bytearray(cover.sealed)
    flipped[200] ^= 1
    return {
        "a letter changed": (text[:4000] + ("A" if text[4000] != "A" else "B") + text[4001:], DAMAGED),
        "cut": (text[:-2], DAMAGED),
        "emptied": ("", DAMAGED),
        "another thing": (with_sum(bytes(foreign)), DAMAGED),
        "a later version": (with_sum(bytes(later)), OLD),
        "a bit changed on purpose": (cover_text(Cover(None, bytes(flipped))), REPLACED),
    }


@pytest.mark.parametrize(
    "kind",
    ["a letter changed", "cut", "emptied", "another thing", "a later version", "a bit changed on purpose"],
)
def test_a_changed_page_never_opens(site: Site, watch: Watch, kind: str) -> None:
    carried, said = damages(site)[kind]
    serving_instead(watch.page, site.at(), site.page.read_text().replace(site.carried(), carried))
    watch.page.goto(site.at(site.key))
    watch.page.locator("#open").click()
    expect(watch.page.locator("#shell h1:visible")).to_have_text(said)
    assert watch.page.locator("#mount").inner_html() == ""
    assert watch.said == []


def test_loading_again_is_the_way_out_of_a_damaged_page(site: Site, watch: Watch) -> None:
    broken = site.page.read_text().replace(site.carried(), site.carried()[:-4])
    serving_instead(watch.page, site.at(), broken)
    watch.page.goto(site.at(site.key))
    watch.page.locator("#open").click()
    expect(watch.page.locator("#shell h1:visible")).to_have_text(DAMAGED)
    watch.page.unroute_all()
    watch.page.locator("[data-reload]:visible").click()
    open_it(watch.page)


def test_a_phrase_is_asked_for_and_a_wrong_one_is_told(site: Site, watch: Watch) -> None:
    own = with_phrase(site.own)
    assert own.phrase
    texts = {
        "title": "t",
        "body": "<h1>Opened</h1>",
        "figures": "null",
        "tokens": "--longest: 6",
        "language": "en",
        "direction": "ltr",
    }
    sealed = seal_bundle(own, Bundle(1, "2031-06-01", texts))
    assert isinstance(sealed, Sealed)
    serving_instead(watch.page, site.at(), site.page.read_text().replace(site.carried(), sealed.page))
    page = watch.page
    page.goto(site.at(fragment(choose_link(own))))
    page.locator("#open").click()
    expect(page.locator("#shell h1:visible")).to_have_text("Now the phrase, please.")
    page.locator("#phrase").fill("not these words")
    page.locator("#ask-phrase button").click()
    expect(page.locator("#shell h1:visible")).to_have_text("These words do not open it.", timeout=20_000)
    page.locator("#phrase").fill(f"  {own.phrase.words.upper()} ")
    page.locator("#ask-phrase button").click()
    expect(page.locator("#mount h1")).to_have_text("Opened", timeout=20_000)


def test_a_proposal_earlier_than_one_seen_before_is_told(site: Site, watch: Watch) -> None:
    """A host could give out an old page again, whole and under the same key."""
    found = open_page(site.carried(), choose_link(site.own))
    assert not isinstance(found, Failure)
    page, earlier = watch.page, watch.page.locator("#earlier")
    for revision, told in ((2, False), (1, True), (2, False), (3, False), (2, True)):
        sealed = seal_bundle(site.own, Bundle(revision, found.built, found.texts))
        assert isinstance(sealed, Sealed)
        page.unroute_all()
        serving_instead(page, site.at(), site.page.read_text().replace(site.carried(), sealed.page))
        page.goto("about:blank")
        page.goto(site.at(site.key))
        open_it(page)
        until(page, "document.getElementById('shared') && localStorage.length === 1")
        expect(earlier).to_be_visible(visible=told)
    expect(earlier).to_have_text(re.compile("You have seen a later proposal here."))
    assert "revision" not in page.evaluate("JSON.stringify({ ...localStorage })")


def test_a_photo_that_is_gone_or_changed_is_told_in_its_place_and_the_rest_opens(
    site: Site, watch: Watch
) -> None:
    page = watch.page
    first, second, *_rest = sorted(site.folder.glob(f"{site.pid}/b/*.bin"))
    page.route(f"**/{first.name}", lambda route: route.fulfill(status=404, body="nothing"))
    page.route(f"**/{second.name}", lambda route: route.fulfill(body=bytes([*second.read_bytes()[:-1], 0])))
    page.goto(site.at(site.key))
    open_it(page)
    page.evaluate("window.print = () => {}")
    page.locator("#print").click()
    until(page, "!document.querySelector('img[data-photo]')")
    told = page.locator("#mount .no-photo")
    assert told.count() >= 2
    assert told.first.inner_text() == "This picture did not arrive. Loading the page again may bring it."
    assert page.locator("#mount img").count() == 4 - told.count()


def test_photos_do_not_pass_for_each_other(site: Site, watch: Watch) -> None:
    page = watch.page
    files = sorted(site.folder.glob(f"{site.pid}/b/*.bin"))
    instead = {mine.name: theirs for mine, theirs in zip(files, [*files[1:], files[0]], strict=True)}
    page.route("**/b/*.bin", lambda route: route.fulfill(body=instead[route.request.url[-30:]].read_bytes()))
    page.goto(site.at(site.key))
    open_it(page)
    page.evaluate("window.print = () => {}")
    page.locator("#print").click()
    until(page, "!document.querySelector('img[data-photo]')")
    assert page.locator("#mount .no-photo").count() == 4


def test_without_javascript_the_page_says_what_it_needs(site: Site, browser: Browser) -> None:
    with watched(browser, java_script_enabled=False) as watch:
        watch.page.goto(site.at(site.key))
        assert state(watch.page) == "This page opens with JavaScript."
        assert watch.page.locator("#shell h1:visible").count() == 1


def test_over_http_the_page_offers_the_secure_address(site: Site, watch: Watch) -> None:
    page = watch.page
    serving_instead(page, f"http://flowers.example/{site.pid}/", site.page.read_text())
    page.goto(f"http://flowers.example/{site.pid}/#{site.key}")
    assert state(page) == "This page opens over a secure connection only."
    assert page.locator("#secure").get_attribute("href") == f"https://flowers.example/{site.pid}/#{site.key}"


def test_a_browser_without_cryptography_is_never_called_a_wrong_key(site: Site, watch: Watch) -> None:
    page = watch.page
    page.add_init_script("Object.defineProperty(Crypto.prototype, 'subtle', { get: () => undefined })")
    serving_instead(page, f"https://flowers.example/{site.pid}/", site.page.read_text())
    page.goto(f"https://flowers.example/{site.pid}/#{site.key}")
    assert state(page) == "This browser cannot unlock the page."


def test_within_another_page_it_does_not_open(site: Site, watch: Watch) -> None:
    page = watch.page
    serving_instead(
        page,
        f"{site.base}frame.html",
        f'<iframe src="{site.at(site.key)}" width="800" height="600"></iframe>',
    )
    page.goto(f"{site.base}frame.html")
    frame = page.frame_locator("iframe")
    expect(frame.locator("#shell h1:visible")).to_have_text("This page stands inside another one.")
    assert frame.locator("#open").is_hidden()


@pytest.mark.parametrize("mark", ["%23", "%2523", "index.html%23"])
def test_a_link_whose_mark_was_escaped_opens_and_counts_as_exposed(
    site: Site, watch: Watch, mark: str
) -> None:
    lost(watch.page, site, Path(site.folder / "404.html").read_text())
    watch.page.goto(f"{site.base}{site.pid}/{mark}{site.key}")
    expect(watch.page.locator("h1:visible")).to_have_text("Something changed your link on its way.")
    assert "no longer counts as secret" in watch.page.locator("body").inner_text()
    watch.page.locator("#go").click()
    watch.page.wait_for_url(site.at(site.key))
    open_it(watch.page)
    assert watch.said == []


@pytest.mark.parametrize("path", ["nothing", "%23c1", "//evil.example/%23", "x/%5c%5cevil.example%23"])
def test_any_other_address_is_answered_with_nothing(site: Site, watch: Watch, path: str) -> None:
    lost(watch.page, site, Path(site.folder / "404.html").read_text())
    watch.page.goto(f"{site.base}{path}{site.key if path.endswith('%23') else ''}")
    expect(watch.page.locator("h1:visible")).to_have_text("There is nothing here.")
    expect(watch.page.locator("#go")).to_be_hidden()


def lost(page: Page, site: Site, text: str) -> None:
    """Answer as a host does that has a page of its own for what is not there; the proposal itself is there."""
    page.route(
        lambda url: url.startswith(site.base) and url.split("#")[0] != site.at() and "/b/" not in url,
        lambda route: route.fulfill(status=200, body=text, content_type="text/html; charset=utf-8"),
    )
