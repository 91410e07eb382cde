"""Measure how the couple's page comes up in a real Chromium. Run it by hand:

    python tests/bench/looks.py [--rounds 3]

For each theme, on the demo's largest event and a phone of 390 px with three pixels to one of CSS, prints: the bytes
of the first view with its picture (wanted: at most 250 KB) and how many pictures came with it, the largest paint
(under 2.0 s), and the layout shift until the end of the page is reached (under 0.02). First for the reading copy,
as a host sends it, then for the sealed page, whose paint is counted from the tap. The processor is slowed four times
and the line is slow 4G: 1.6 Mbit/s and 150 ms, as browsers' own tools take it. The least of several rounds is
printed, for machines are noisy. At the end stands what axe-core finds, by its rules for WCAG 2.2 A and AA, in both
lights, on phone and desktop, before and after choosing (wanted: nothing). Nothing here is a test.
"""

import argparse
import gzip
import shutil
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from threading import Thread
from typing import Any

from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, CDPSession, Page, sync_playwright

from sitegen.seal.base32 import encode
from sitegen.seal.keys import Secrets, choose_link
from sitegen.seal.link import fragment
from sitegen.seal.store import Store, find
from tests.chromium import ARGUMENTS, CHROMIUM
from tests.running import DEMO_DAY, ROOT, sitegen

EVENT = "2027-06-19-quillet-farm"
THEMES = ("north-window", "market-day", "recipe-box")
LINE = {"offline": False, "latency": 150, "downloadThroughput": 200_000, "uploadThroughput": 90_000}
WATCH = """
  window.seen = { shift: 0, paint: 0, what: "" };
  new PerformanceObserver((list) => {
    for (const one of list.getEntries()) if (!one.hadRecentInput) seen.shift += one.value;
  }).observe({ type: "layout-shift", buffered: true });
  new PerformanceObserver((list) => {
    for (const one of list.getEntries()) [seen.paint, seen.what] = [one.startTime, one.element?.tagName ?? ""];
  }).observe({ type: "largest-contentful-paint", buffered: true });
"""
# What a tap brings is no largest paint to the browser: the first picture's own is waited for.
OPEN = """() => new Promise((done) => {
  const begun = performance.now();
  const look = () => {
    const image = document.querySelector("#mount .first-picture img");
    if (image && !image.dataset.photo) requestAnimationFrame(() => done(performance.now() - begun));
    else setTimeout(look, 5);
  };
  document.querySelector("#open").click();
  look();
})"""
CHOOSE = """() => {
  for (const choice of document.querySelectorAll("fieldset")) choice.querySelector(".answer:last-of-type").click();
  document.querySelectorAll("details").forEach((one) => (one.open = true));
}"""
TO_THE_END = """async () => {
  for (let at = 0; at < document.body.scrollHeight; at += 500) {
    scrollTo({ top: at, behavior: "instant" });
    await new Promise((done) => setTimeout(done, 60));
  }
}"""


class _Zipping(SimpleHTTPRequestHandler):
    """Pages go out zipped, as hosts of static sites do."""

    def do_GET(self) -> None:
        path = Path(self.translate_path(self.path))
        path = path / "index.html" if path.is_dir() else path
        if not path.is_file():
            self.send_error(404)
            return
        data, page = path.read_bytes(), path.suffix == ".html"
        body = gzip.compress(data, mtime=0) if page else data
        self.send_response(200)
        self.send_header("Content-Type", "text/html" if page else self.guess_type(path))
        if page:
            self.send_header("Content-Encoding", "gzip")
        self.send_header("Content-Length", str(len(body)))
        self.end_headers()
        self.wfile.write(body)

    def log_message(self, format: str, *args: Any) -> None:  # noqa: A002 - the name is the library's
        """Say nothing."""


@contextmanager
def served(folder: Path) -> Iterator[str]:
    def handler(*arguments: Any) -> _Zipping:
        return _Zipping(*arguments, directory=str(folder))

    with ThreadingHTTPServer(("127.0.0.1", 0), handler) as server:
        Thread(target=server.serve_forever, args=(0.05,), daemon=True).start()
        yield f"http://127.0.0.1:{server.server_address[1]}/"
        server.shutdown()


@contextmanager
def slow_phone(browser: Browser) -> Iterator[tuple[Page, CDPSession, list[int]]]:
    """A page that writes down its own shifts and paints, and the bytes of each answer that has come."""
    context = browser.new_context(viewport={"width": 390, "height": 844}, device_scale_factor=3)
    page = context.new_page()
    page.add_init_script(WATCH)
    tools = context.new_cdp_session(page)
    came: list[int] = []
    tools.on("Network.loadingFinished", lambda one: came.append(round(one["encodedDataLength"])))
    tools.send("Network.enable")
    tools.send("Network.emulateNetworkConditions", LINE)
    tools.send("Emulation.setCPUThrottlingRate", {"rate": 4})
    yield page, tools, came
    context.close()


def figures(page: Page, tools: CDPSession, came: list[int], paint: float) -> tuple[float, float, float, int]:
    page.wait_for_timeout(1500)
    first, answers = sum(came) / 1000, len(came)
    tools.send("Network.emulateNetworkConditions", LINE | {"latency": 0, "downloadThroughput": -1})
    tools.send("Emulation.setCPUThrottlingRate", {"rate": 1})
    page.evaluate(TO_THE_END)
    page.wait_for_timeout(300)
    return paint, page.evaluate("seen.shift"), first, answers - 1


def reading(browser: Browser, address: str) -> tuple[float, float, float, int]:
    with slow_phone(browser) as (page, tools, came):
        page.goto(address, wait_until="load")
        page.wait_for_timeout(500)
        return figures(page, tools, came, page.evaluate("seen.paint"))


def sealed(browser: Browser, address: str) -> tuple[float, float, float, int]:
    with slow_phone(browser) as (page, tools, came):
        page.goto(address)
        page.locator("#open").wait_for()
        return figures(page, tools, came, page.evaluate(OPEN))


def findings(browser: Browser, address: str) -> set[str]:
    """Ask axe-core of a page in every light and on both screens."""
    found = set()
    options = {
        "runOnly": ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"],
        "resultTypes": ["violations"],
    }
    for scheme in ("light", "dark"):
        for width in (390, 1280):
            page = browser.new_page(viewport={"width": width, "height": 844}, reduced_motion="reduce")
            page.emulate_media(color_scheme=scheme)
            page.goto(address)
            for chosen in (False, True):
                if chosen:
                    page.evaluate(CHOOSE)
                for one in Axe().run(page, options=options).response["violations"]:
                    found.add(f"{one['id']} at {width} px, {scheme}: {one['nodes'][0]['html'][:80]}")
            page.close()
    return found


def told(name: str, rounds: list[tuple[float, float, float, int]]) -> None:
    paint, shift, first, pictures = (min(column) for column in zip(*rounds, strict=True))
    print(f"{name:24} {first:6.0f} KB, {pictures} pictures; paint {paint:5.0f} ms; shift {shift:.4f}")


def main() -> None:
    parser = argparse.ArgumentParser()
    parser.add_argument("--rounds", type=int, default=3)
    rounds = range(parser.parse_args().rounds)
    with tempfile.TemporaryDirectory() as folder, sync_playwright() as playwright:
        home = Path(folder)
        shutil.copytree(ROOT / "content", home / "content")
        studio = home / "content" / "studio.md"
        text = studio.read_text()
        browser = playwright.chromium.launch(executable_path=CHROMIUM, args=ARGUMENTS)
        for theme in THEMES:
            studio.write_text(text.replace("\ncurrency:", f"\ntheme: {theme}\ncurrency:", 1))
            if sitegen(home, "build", *DEMO_DAY).returncode:
                raise SystemExit("the demo does not build")
            own = find(Store(home / ".sitegen" / "keys"), EVENT)
            if not isinstance(own, Secrets):
                raise SystemExit("the demo has no key")
            with served(home / "out") as base:
                copy = f"{base}desk/{EVENT}/proposal.html"
                told(f"{theme}, copy", [reading(browser, copy) for _ in rounds])
                link = f"{base}sealed/{encode(own.pid)}/#{fragment(choose_link(own))}"
                told(f"{theme}, sealed", [sealed(browser, link) for _ in rounds])
                print(f"{theme}, axe        {sorted(findings(browser, copy)) or 'nothing'}")
        browser.close()


if __name__ == "__main__":
    main()
