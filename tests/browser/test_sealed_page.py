"""The page that opens a sealed proposal: one tap, then everything, and nothing to anybody else."""

import gzip
import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, Route, expect
from rjsmin import jsmin

from sitegen.check.shared import PAGE_LANGUAGES
from sitegen.render.pages import shell_page
from sitegen.render.scripts import CHOOSING, LOST, UNLOCKING, joined, shortened
from sitegen.render.shell import SHELL_TEMPLATE, THEME, shell_of
from sitegen.seal.keys import view_link
from sitegen.seal.link import fragment
from sitegen.theme import SHIPPED, find_theme
from tests.browser.sealing import Site, Watch, open_it, sealed_site, serving_instead, state, watched
from tests.paper import read
from tests.waiting import until

pytestmark = pytest.mark.browser


@pytest.fixture(scope="module")
def site(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Site]:
    with sealed_site(tmp_path_factory.mktemp("sealed")) as found:
        yield found


@pytest.fixture
def watch(browser: Browser) -> Iterator[Watch]:
    with watched(browser, viewport={"width": 390, "height": 844}) as found:
        yield found


@pytest.fixture
def opened(site: Site, watch: Watch) -> Watch:
    watch.page.goto(site.at(site.key))
    open_it(watch.page)
    return watch


def see_all(page: Page) -> None:
    """Scroll from top to bottom, as a reader does, until every picture is there."""
    for image in page.locator("#mount img").all():
        image.scroll_into_view_if_needed()
    until(
        page,
        "[...document.querySelectorAll('#mount img')].every((one) => !one.dataset.photo && one.naturalWidth > 50)",
    )


def test_before_the_tap_nothing_is_open_and_one_file_was_asked_for(site: Site, watch: Watch) -> None:
    watch.page.goto(site.at(site.key))
    assert state(watch.page) == "A proposal is waiting for you here."
    assert watch.page.title() == "A private page"
    assert watch.page.locator("#mount").inner_html() == ""
    said = watch.page.locator("body").inner_text()
    assert "Avery" not in said
    assert "$" not in said
    assert watch.asked == [site.at()]


def test_after_the_tap_everything_is_there(site: Site, opened: Watch) -> None:
    page = opened.page
    reading = (site.home / "out" / "desk" / "2031-09-13-millrace" / "proposal.html").read_text()
    names = re.findall(r'<h3 id="[^"]*" dir="auto">([^<]*)<', reading)
    assert len(names) == 2
    assert page.locator("#mount h3[dir=auto]").all_inner_texts() == names
    assert page.title() == "A private page"
    assert page.url == site.at(site.key)
    expect(page.locator("#shell")).to_be_hidden()


def test_photos_come_as_they_are_seen_and_hold_their_room(opened: Watch) -> None:
    page = opened.page
    before = page.evaluate("document.querySelector('#mount').scrollHeight")
    last = page.locator("#mount img").last
    assert last.get_attribute("data-photo")
    see_all(page)
    assert page.evaluate("document.querySelector('#mount').scrollHeight") == before
    assert page.locator("#mount img").count() == 4
    assert not page.evaluate("[...document.images].some((one) => !one.src.startsWith('blob:'))")


def test_the_addresses_of_photos_are_taken_back(opened: Watch) -> None:
    see_all(opened.page)
    address = opened.page.locator("#mount img").first.get_attribute("src")
    gone = "async (address) => fetch(address).then(() => 'there', () => 'gone')"
    assert opened.page.evaluate(gone, address) == "gone"


def test_choosing_works_on_the_opened_page(opened: Watch) -> None:
    page = opened.page
    total = page.locator(".bar output")
    before = total.inner_text()
    page.locator("input[type=radio]:not(:checked)").first.check(force=True)
    expect(total).not_to_have_text(before)
    assert page.locator("html.live").count() == 1


def test_nothing_is_blocked_nothing_complains_and_nobody_else_is_asked(site: Site, opened: Watch) -> None:
    see_all(opened.page)
    assert opened.said == []
    assert {one.split("/")[2] for one in opened.asked if not one.startswith("blob:")} == {
        site.base.split("/")[2]
    }


def test_the_same_holds_under_the_headers_of_a_host_that_sends_them(site: Site, watch: Watch) -> None:
    lines = (site.folder / "_headers").read_text().splitlines()
    assert lines[0] == "/*"
    sent = dict(line.strip().split(": ", 1) for line in lines[1:])

    def with_headers(route: Route) -> None:
        found = route.fetch()
        route.fulfill(response=found, headers={**found.headers, **sent})

    watch.page.route(f"{site.base}**", with_headers)
    watch.page.goto(site.at(site.key))
    open_it(watch.page)
    see_all(watch.page)
    assert watch.said == []
    assert "Content-Security-Policy" in sent


def test_links_within_the_page_scroll_and_leave_the_key_alone(site: Site, opened: Watch) -> None:
    page = opened.page
    page.locator(".bar a.button").click()
    until(page, "document.activeElement.id === 'choices'")
    assert page.url == site.at(site.key)
    page.locator(".estimate a").first.click()
    until(page, "document.activeElement.id === 'piece-1'")
    assert page.url == site.at(site.key)
    page.locator("a.skip").focus()
    page.keyboard.press("Enter")
    until(page, "document.activeElement.id === 'main'")
    assert page.url == site.at(site.key)


def test_reload_bookmark_and_back_open_again(site: Site, opened: Watch) -> None:
    page = opened.page
    page.reload()
    open_it(page)
    page.goto("about:blank")
    page.go_back()
    assert page.url == site.at(site.key)
    if page.locator("#mount h1").count() == 0:
        open_it(page)
    expect(page.locator("#mount h1")).to_be_visible()
    page.go_forward()
    page.go_back()
    expect(page.locator("#mount h1, #open").locator("visible=true").first).to_be_visible()


def test_neither_storage_nor_any_request_holds_the_key(site: Site, opened: Watch) -> None:
    page = opened.page
    see_all(page)
    sent: list[str] = []
    page.on("request", lambda request: sent.append(f"{request.url.split('#')[0]} {request.all_headers()}"))
    page.reload()
    open_it(page)
    page.locator("#mount img:not([data-photo])").first.wait_for()
    stored = page.evaluate("JSON.stringify([{...localStorage}, {...sessionStorage}, document.cookie])")
    assert len(sent) >= 2
    for text in (*sent, stored):
        assert site.key[2:28] not in text
        assert not re.search(r"'referer': '[^']", text)


def printed(page: Page) -> str:
    pdf = page.pdf(display_header_footer=True, prefer_css_page_size=True)
    return "\n".join(read(pdf).texts())


def test_the_key_is_not_printed_and_would_be_with_a_margin(site: Site, opened: Watch) -> None:
    """Without our rule the browser's own line prints the address: so the first half of this test can fail."""
    text = printed(opened.page)
    assert "The estimate" in text
    assert site.key[2:20] not in text
    assert "127.0.0.1" not in text
    opened.page.evaluate(
        """() => { const sheet = new CSSStyleSheet(); sheet.replaceSync("@page { margin: 25mm !important }");
        document.adoptedStyleSheets = [sheet]; }"""
    )
    assert "127.0.0.1" in printed(opened.page)


def test_the_print_button_brings_every_picture_first(opened: Watch) -> None:
    page = opened.page
    page.evaluate(
        "window.print = () => { window.printed = document.querySelectorAll('img[data-photo]').length; }"
    )
    assert page.locator("img[data-photo]").count() > 0
    page.locator("#print").click()
    until(page, "window.printed === 0")


def test_the_link_to_show_opens_the_page_and_is_not_the_couples(
    site: Site, opened: Watch, browser: Browser
) -> None:
    opened.page.context.grant_permissions(["clipboard-read", "clipboard-write"])
    opened.page.locator("#share").click()
    expect(opened.page.locator("#shared")).not_to_be_empty()
    copied = opened.page.evaluate("navigator.clipboard.readText()")
    assert copied == site.at(fragment(view_link(site.own)))
    with watched(browser) as other:
        other.page.goto(copied)
        open_it(other.page)


@pytest.mark.parametrize("tail", ["", "/", "/index.html", "/?fbclid=x"])
def test_every_spelling_of_the_address_opens_with_its_photos(site: Site, watch: Watch, tail: str) -> None:
    if not tail:
        # A server that does not add the slash by itself.
        watch.page.route(f"{site.base}{site.pid}", lambda route: route.fulfill(
            body=site.page.read_text(), content_type="text/html"))  # fmt: skip
    watch.page.goto(f"{site.base}{site.pid}{tail}#{site.key}")
    open_it(watch.page)
    see_all(watch.page)


@pytest.mark.parametrize("language", PAGE_LANGUAGES)
@pytest.mark.parametrize("name", ["market-day", "north-window", "recipe-box"])
def test_the_shell_and_its_script_are_small(name: str, language: str) -> None:
    theme, shell = find_theme(name, SHIPPED)[0], find_theme(THEME, SHIPPED)[0]
    assert theme is not None
    assert shell is not None
    page = shell_page(SHELL_TEMPLATE, shell_of("", language, "letter", theme, shell), shell)
    assert len(gzip.compress(page.encode(), mtime=0)) < 25_000


def test_a_name_is_shortened_only_where_it_can_be_no_other_thing() -> None:
    for modules in (CHOOSING, UNLOCKING, LOST):
        script = shortened(*modules)
        assert len(script) < len(str(jsmin(joined(*modules))))
        short = set(re.findall(r"(?:const|let|function) ([A-Z]{1,2})\b", script))
        assert len(short) >= 5
        for name in short:  # used as a name alone, never as a property's
            assert not re.search(rf"\.{name}\b|[{{,]{name}[,}}=]|(?<![\w$]){name}:", script)


@pytest.mark.parametrize("modules", [CHOOSING, UNLOCKING, LOST], ids=["choosing", "unlocking", "lost"])
def test_no_name_stands_twice_in_a_joined_script(modules: tuple[str, ...]) -> None:
    script = joined(*modules)
    names = re.findall(r"^(?:async )?(?:const|let|function) (\w+)", script, re.MULTILINE)
    assert len(names) == len(set(names)) > 5
    assert not re.search(r"^(import|export)\b", script, re.MULTILINE)


def test_choices_come_back_and_are_kept_in_no_readable_form(site: Site, opened: Watch) -> None:
    page = opened.page
    page.locator("input[type=radio]:not(:checked)").first.check(force=True)
    page.locator("details:has(#general-note)").evaluate_all(
        "(all) => all.forEach((one) => { one.open = true; })"
    )
    page.locator("#general-note").fill("Peonies please, QXCANARY")
    until(page, "Object.keys(localStorage).length === 1")
    total = page.locator(".bar output").inner_text()
    page.wait_for_timeout(200)
    page.reload()
    open_it(page)
    expect(page.locator("#general-note")).to_have_value("Peonies please, QXCANARY")
    expect(page.locator(".bar output")).to_have_text(total)
    stored = page.evaluate("JSON.stringify({ ...localStorage })")
    assert "QXCANARY" not in stored
    assert site.pid not in stored
    assert re.fullmatch(r'\{"sitegen [0-9a-z]{26}":"[0-9a-z]+"\}', stored)


def test_a_reply_from_the_couples_link_has_its_code_and_one_from_a_view_link_has_none(
    site: Site, opened: Watch, browser: Browser
) -> None:
    opened.page.locator("input[type=radio]:not(:checked)").first.check(force=True)
    expect(opened.page.locator("#message")).to_have_value(re.compile(r"TRUG1-[0-9A-Z-]+-BUD"))
    with watched(browser) as other:
        other.page.goto(site.at(fragment(view_link(site.own))))
        open_it(other.page)
        other.page.locator("input[type=radio]:not(:checked)").first.check(force=True)
        expect(other.page.locator("#message")).not_to_have_value("")
        assert "TRUG1" not in other.page.locator("#message").input_value()


def test_a_script_that_somebody_changed_does_not_run(site: Site, watch: Watch) -> None:
    serving_instead(watch.page, site.at(), lambda text: text.replace('"hashchange"', '"hashchangf"'))
    watch.page.goto(site.at(site.key))
    watch.page.wait_for_timeout(300)
    assert watch.page.locator("#shell h1:visible").count() == 0
    assert any("Content Security Policy" in line for line in watch.said)


@pytest.mark.parametrize(
    "attempt",
    [
        "document.getElementById('mount').innerHTML = '<b>x</b>'",
        "const one = document.createElement('script'); one.text = 'hit = 1'; document.body.append(one); if (!window.hit) throw 1",
        "document.body.setAttribute('onclick', 'window.hit = 1'); document.body.click(); if (!window.hit) throw new Error('no')",
        "await fetch('https://other.example/')",
    ],
)
def test_what_the_policy_forbids_is_blocked(site: Site, watch: Watch, attempt: str) -> None:
    watch.page.goto(site.at(site.key))
    state(watch.page)
    # Through the page's own world: `evaluate` itself is not held to the policy, what it calls is.
    failed = watch.page.evaluate(
        f"async () => {{ try {{ {attempt}; return ''; }} catch (e) {{ return String(e); }} }}"
    )
    assert failed


def test_meta_and_headers_say_the_same_but_for_what_is_each_pages_own(site: Site) -> None:
    meta = re.search(r'http-equiv="Content-Security-Policy" content="([^"]*)"', site.page.read_text())
    assert meta
    page = dict(part.strip().split(" ", 1) for part in meta[1].replace("&#39;", "'").split(";"))
    line = next(
        one for one in (site.folder / "_headers").read_text().splitlines() if "Policy: default" in one
    )
    host = dict(part.strip().split(" ", 1) for part in line.split(": ", 1)[1].split(";"))
    own = {"script-src", "style-src", "img-src"}
    assert {name: value for name, value in page.items() if name not in own} == {
        name: value for name, value in host.items() if name not in own | {"frame-ancestors"}
    }
    assert re.fullmatch(r"'sha256-[A-Za-z0-9+/]{43}='", page["script-src"])
    assert re.fullmatch(r"'sha256-[A-Za-z0-9+/]{43}='", page["style-src"])
    assert host["frame-ancestors"] == "'none'"


def test_the_bare_page_says_nothing_to_machines_that_index(site: Site) -> None:
    for path in (site.page, site.folder / "404.html"):
        text = Path(path).read_text()
        assert '<meta name="robots" content="noindex, nofollow, noarchive, nosnippet, noimageindex">' in text
        assert '<meta name="referrer" content="no-referrer">' in text
        assert "mailto:" not in re.sub(r"<script.*?</script>", "", text, flags=re.DOTALL)


def test_pictures_are_looked_at_one_by_one_by_tap_keys_and_swipe(opened: Watch) -> None:
    page = opened.page
    viewer, said = page.locator(".viewer"), page.locator(".viewer output")
    height = page.evaluate("document.querySelector('#mount').scrollHeight")
    places = page.locator(".enlarge")
    many = places.count()
    assert many >= 2
    places.first.scroll_into_view_if_needed()
    places.first.focus()
    page.keyboard.press("Enter")
    expect(viewer).to_be_visible()
    expect(said).to_have_text(f"1 of {many}")
    page.keyboard.press("ArrowRight")
    expect(said).to_have_text(f"2 of {many}")
    until(page, "document.querySelector('.viewer img').naturalWidth > 50")
    page.keyboard.press("ArrowLeft")
    viewer.locator("[data-turn='-1']").click()
    expect(said).to_have_text(f"{many} of {many}")
    page.mouse.move(300, 300)
    page.mouse.down()
    page.mouse.move(100, 300)
    page.mouse.up()
    expect(said).to_have_text(f"1 of {many}")
    page.keyboard.press("Escape")
    expect(viewer).to_be_hidden()
    expect(places.first).to_be_focused()
    assert page.locator("#mount .enlarge picture").count() == many
    assert page.evaluate("document.querySelector('#mount').scrollHeight") == height
    assert opened.said == []
