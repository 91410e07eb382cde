"""A small studio with photos, built and served, for the tests of the page that opens it."""

import base64
import hashlib
import shutil
import tempfile
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path

from PIL import Image
from playwright.sync_api import Browser, BrowserContext, Page, Route

from sitegen.seal.base32 import encode
from sitegen.seal.keys import Secrets, choose_link
from sitegen.seal.link import fragment
from sitegen.seal.store import Store, find
from tests.publish.served import serving
from tests.running import ROOT, sitegen

EVENT = "2031-09-13-millrace"
PIECES = {"01-hand-tied.md": ("one", "two"), "02-low-bowls.md": ("three",)}


def photo(path: Path, tone: int, size: tuple[int, int] = (900, 1200)) -> None:
    """Write a photo with a slope of grey, so that no two are alike."""
    slope = Image.linear_gradient("L").resize(size)
    Image.merge("RGB", (slope, slope.rotate(180), Image.new("L", size, tone))).save(path, quality=85)


def with_photos(home: Path) -> Path:
    """Lay the worked studio in *home*, its pieces with photos, which are developed once for all tests."""
    shutil.copytree(Path(_developed().name), home / ".sitegen" / "cache" / "pictures")
    return _laid(home)


@cache
def _developed() -> "tempfile.TemporaryDirectory[str]":
    made = tempfile.TemporaryDirectory()
    with tempfile.TemporaryDirectory() as home:
        done = sitegen(_laid(Path(home)), "build")
        assert done.returncode == 0, done.stderr
        shutil.copytree(Path(home) / ".sitegen" / "cache" / "pictures", made.name, dirs_exist_ok=True)
    return made


def _laid(home: Path) -> Path:
    folder = without_pictures(home) / "content" / "events" / EVENT
    (folder / "photos").mkdir()
    for number, (name, photos) in enumerate(PIECES.items()):
        lines = "".join(f"  - {{file: {one}.jpg, alt: Photo {one}}}\n" for one in photos)
        text = (folder / name).read_text().replace("---\n", f"---\nphotos:\n{lines}", 1)
        (folder / name).write_text(text)
        for i, one in enumerate(photos):
            photo(folder / "photos" / f"{one}.jpg", 40 + 90 * number + 40 * i)
    return home


def without_pictures(home: Path) -> Path:
    """Lay the worked studio in *home*; with no picture to make, no process has to start for it."""
    worked = ROOT / "tests" / "golden" / "millrace"
    shutil.copytree(worked, home / "content", ignore=shutil.ignore_patterns("figures.json"))
    return home


@dataclass
class Site:
    """A sealed site and its address; *own* are the secrets of its event."""

    home: Path
    base: str
    own: Secrets

    @property
    def pid(self) -> str:
        return encode(self.own.pid)

    @property
    def folder(self) -> Path:
        return self.home / "out" / "sealed"

    @property
    def page(self) -> Path:
        return self.folder / self.pid / "index.html"

    @property
    def key(self) -> str:
        return fragment(choose_link(self.own))

    def at(self, key: str = "") -> str:
        return f"{self.base}{self.pid}/" + (f"#{key}" if key else "")

    def carried(self) -> str:
        return self.page.read_text().split('id="sealed">', 1)[1].split("<", 1)[0]


@contextmanager
def sealed_site(home: Path) -> Iterator[Site]:
    """Build the studio in *home* and serve what is sealed, from a secure context of the loopback."""
    done = sitegen(with_photos(home), "build")
    assert done.returncode == 0, done.stderr
    own = find(Store(home / ".sitegen" / "keys"), EVENT)
    assert isinstance(own, Secrets)
    with serving(home / "out" / "sealed", None) as (base, _habits):
        yield Site(home, base, own)


@dataclass
class Watch:
    """A page with all it asked for and complained of."""

    page: Page
    asked: list[str] = field(default_factory=list)
    said: list[str] = field(default_factory=list)


@contextmanager
def watched(browser: Browser, **options: object) -> Iterator[Watch]:
    """Open a page of its own in a context of its own."""
    context: BrowserContext = browser.new_context(**options)  # type: ignore[arg-type]
    page = context.new_page()
    watch = Watch(page)
    page.on("request", lambda request: watch.asked.append(request.url))
    page.on("console", lambda message: watch.said.append(f"{message.type}: {message.text}"))
    page.on("pageerror", lambda error: watch.said.append(f"error: {error}"))
    yield watch
    context.close()


def state(page: Page) -> str:
    """The heading that is shown, once there is one."""
    page.locator("#shell h1:visible").first.wait_for()
    return page.locator("#shell h1:visible").first.inner_text()


def open_it(page: Page) -> None:
    page.locator("#open").click()
    page.locator("#mount h1").wait_for()


def serving_instead(page: Page, address: str, body: Callable[[str], str] | str) -> None:
    """Answer for *address* with another page."""

    def answer(route: Route) -> None:
        text = body if isinstance(body, str) else body(route.fetch().text())
        route.fulfill(status=200, body=text, content_type="text/html; charset=utf-8")

    page.route(address, answer)


def with_sum(cover: bytes) -> str:
    """A cover's text with a sum that fits, as whoever changes a page on purpose would write it."""
    return base64.b64encode(cover + hashlib.sha256(cover).digest()[:4]).decode()
