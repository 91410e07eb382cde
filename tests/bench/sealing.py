"""Measure what sealing costs, the studio and the couple. Run it by hand:

    python tests/bench/sealing.py [--rounds 5]

Prints, for the demo: the share of sealing in a build that makes every page again while its pictures are there
(wanted: at most 15 % on top of the rest); how long Chromium takes to unseal 5 MB of photos (under 60 ms); the time from
the tap to the first text with a processor slowed four times behind a slow mobile line (under 1 s; 1.6 Mbit/s and
150 ms are the line that browsers' own tools call slow 4G); and the size of the page's shell with its script, zipped
(under 25 KB). Machines are noisy: the least of several rounds is printed. Nothing here is a test.
"""

import argparse
import base64
import datetime as dt
import gzip
import shutil
import tempfile
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

from playwright.sync_api import Browser, sync_playwright

from sitegen.build import run as building
from sitegen.build.quick import survey
from sitegen.build.settings import Settings
from sitegen.render.scripts import joined
from sitegen.seal.base32 import encode
from sitegen.seal.bundle import Bundle, Photo, Sealed, seal_bundle
from sitegen.seal.keys import Secrets, choose_link
from sitegen.seal.link import fragment
from sitegen.seal.store import Store, find
from tests.chromium import ARGUMENTS, CHROMIUM
from tests.publish.served import serving
from tests.running import ROOT

TODAY = dt.date(2026, 11, 25)
EVENT = "2027-06-19-quillet-farm"
MEGABYTES = 5
UNSEAL = """async ({ page, link, files }) => {
  %s
  const bytes = (text) => Uint8Array.from(atob(text), (letter) => letter.charCodeAt(0));
  const found = await openPage(page, { kind: "c", pid: bytes(link[0]), secret: bytes(link[1]) }, "");
  const photos = Object.entries(files).map(([place, data]) => [place, bytes(data)]);
  const begun = performance.now();
  const opened = await Promise.all(photos.map(([place, data]) =>
    openPhoto(found.keys, place, found.photos[place], data)));
  const took = performance.now() - begun;
  if (opened.some((one) => one.failure)) throw new Error("a photo did not open");
  return took;
}"""
FIRST_TEXT = """() => new Promise((done) => {
  const seen = new MutationObserver(() => {
    if (document.querySelector("#mount h1")) requestAnimationFrame(() => done(performance.now() - begun));
  });
  seen.observe(document.querySelector("#mount"), { childList: true });
  const begun = performance.now();
  document.querySelector("#open").click();
})"""


def share_of_sealing(home: Path) -> tuple[float, float]:
    """Seconds for sealing, and for all the rest, of one build with its pictures made and every page stale."""
    sealing = 0.0

    def timed(act: Callable[..., Any]) -> Callable[..., Any]:
        def run(*arguments: Any, **more: Any) -> Any:
            nonlocal sealing
            begun = time.process_time()
            try:
                return act(*arguments, **more)
            finally:
                sealing += time.process_time() - begun

        return run

    original = building._to_seal, building._seal
    building._to_seal, building._seal = timed(original[0]), timed(original[1])
    note = home / "content" / "studio.md"
    note.write_text(note.read_text() + "\nOne word more.\n")
    try:
        begun = time.process_time()
        outcome = building.build(survey(Settings(home / "content", home / "out", TODAY, "content")))
        whole = time.process_time() - begun
    finally:
        building._to_seal, building._seal = original
    if not outcome.ok:
        raise SystemExit("the demo does not build")
    return sealing, whole - sealing


def unsealing(browser: Browser) -> float:
    """Milliseconds for five megabytes in twenty photos, in desktop Chromium."""
    own = Secrets(bytes(16), bytes(range(16)))
    size = MEGABYTES * 1_000_000 // 20
    photos = tuple(Photo(f"p{i}", 1280, "image/webp", bytes([i]) * size) for i in range(20))
    made = seal_bundle(own, Bundle(1, "", {}, photos))
    if not isinstance(made, Sealed):
        raise SystemExit("five megabytes do not fit")
    link = choose_link(own)
    given = {
        "page": made.page,
        "link": [_base64(link.pid), _base64(link.secret)],
        "files": {
            photo.place: _base64(data) for photo, data in zip(photos, made.files.values(), strict=True)
        },
    }
    page = browser.new_page()
    page.route("**/*", lambda route: route.fulfill(content_type="text/html", body="<title>.</title>"))
    page.goto("https://proposal.example/")
    took: float = page.evaluate(UNSEAL % joined("link.js", "envelope.js", "open.js"), given)
    page.close()
    return took


def _base64(data: bytes) -> str:
    return base64.b64encode(data).decode()


def first_text(browser: Browser, address: str) -> float:
    """Milliseconds from the tap to the first text, on a slow phone behind a slow line."""
    context = browser.new_context(viewport={"width": 390, "height": 844})
    page = context.new_page()
    page.goto(address)
    page.locator("#open").wait_for()
    tools = context.new_cdp_session(page)
    tools.send("Emulation.setCPUThrottlingRate", {"rate": 4})
    line = {"offline": False, "latency": 150, "downloadThroughput": 200_000, "uploadThroughput": 90_000}
    tools.send("Network.emulateNetworkConditions", line)
    took: float = page.evaluate(FIRST_TEXT)
    context.close()
    return took


def main() -> None:
    parser = argparse.ArgumentParser()
    parser.add_argument("--rounds", type=int, default=5)
    rounds = range(parser.parse_args().rounds)
    with tempfile.TemporaryDirectory() as folder, sync_playwright() as playwright:
        home = Path(folder)
        shutil.copytree(ROOT / "content", home / "content")
        share_of_sealing(home)
        seals, rest = min((share_of_sealing(home) for _ in rounds), key=lambda one: one[0] / one[1])
        print(f"sealing        {seals * 1000:6.0f} ms on top of {rest * 1000:.0f} ms: {seals / rest:.1%}")
        browser = playwright.chromium.launch(executable_path=CHROMIUM, args=ARGUMENTS)
        print(f"unsealing 5 MB {min(unsealing(browser) for _ in rounds):6.0f} ms")
        own = find(Store(home / ".sitegen" / "keys"), EVENT)
        if not isinstance(own, Secrets):
            raise SystemExit("the demo has no key")
        index = home / "out" / "sealed" / encode(own.pid) / "index.html"
        with serving(home / "out" / "sealed", None) as (base, _habits):
            address = f"{base}{encode(own.pid)}/#{fragment(choose_link(own))}"
            print(f"first text     {min(first_text(browser, address) for _ in rounds):6.0f} ms")
        text = index.read_text()
        shell = text.replace(text.split('id="sealed">', 1)[1].split("<", 1)[0], "")
        print(f"shell          {len(gzip.compress(shell.encode(), mtime=0)):6} bytes zipped")
        browser.close()


if __name__ == "__main__":
    main()
