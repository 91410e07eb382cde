"""Sketches on their way through a build: painted once, painted anew only where the recipe or a colour is new."""

import shutil
from collections.abc import Callable, Sequence
from pathlib import Path

import pytest

from sitegen.pictures.sketch.make import make_sketches
from sitegen.pictures.sketch.plan import Drawing
from sitegen.pictures.store import Store
from sitegen.seal.opening import Opened, open_photo
from tests.build.test_sealed_build import opened
from tests.running import sitegen

EVENT = "2031-09-13-millrace"


@pytest.fixture(scope="module")
def sketched(worked: Callable[[Path], Path], tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The worked studio with sketches, its bowls without the dahlia that its bouquet has, built."""
    home = worked(tmp_path_factory.mktemp("sketched"))
    replace(home / "content" / "studio.md", "sketch: no\n", "")
    replace(home / "content" / "events" / EVENT / "02-low-bowls.md", "dahlia-apricot: 2/3, ", "")
    done = sitegen(home, "build")
    assert done.returncode == 0, done.stderr
    return home


@pytest.fixture
def home(sketched: Path, tmp_path: Path) -> Path:
    """A copy of it, to change at will."""
    return Path(shutil.copytree(sketched, tmp_path / "home"))


def replace(path: Path, old: str, new: str) -> None:
    text = path.read_text("utf-8")
    assert old in text
    path.write_text(text.replace(old, new), "utf-8")


def cached(home: Path) -> dict[str, int]:
    """The pictures in the cache, and when each was written."""
    folder = home / ".sitegen" / "cache" / "pictures"
    return {path.name: path.stat().st_mtime_ns for path in folder.glob("*.webp")}


def page(home: Path) -> str:
    return (home / "out" / "desk" / EVENT / "proposal.html").read_text("utf-8")


def test_each_piece_without_a_photo_shows_its_sketch(sketched: Path) -> None:
    html = page(sketched)
    assert html.count("A sketch of the recipe, not the finished piece") == 2
    assert 'alt="Sketch of ' in html
    assert html.count("<picture>") == 2
    for name in ("order.html", "index.html"):
        other = (sketched / "out" / "desk" / EVENT / name).read_text("utf-8")
        assert "A sketch of the recipe, not the finished piece" in other
        assert other.count('alt="Sketch of ') == 2


def test_the_sealed_page_carries_sketches_as_it_does_photos(sketched: Path) -> None:
    found = opened(sketched)
    assert isinstance(found, Opened)
    assert len(found.photos) == 2
    folder = next((sketched / "out" / "sealed").glob("*/index.html")).parent
    for place, entry in found.photos.items():
        content = open_photo(found.keys, place, entry, (folder / entry.file).read_bytes())
        assert isinstance(content, bytes)
        assert content[8:12] == b"WEBP"


def test_what_no_sketch_shows_paints_nothing(home: Path) -> None:
    before = cached(home)
    replace(home / "content" / "stems.yaml", "price: 14.50", "price: 15.50")
    assert sitegen(home, "build").returncode == 0
    assert cached(home) == before


def test_another_colour_repaints_only_what_shows_it(home: Path) -> None:
    before = cached(home)
    replace(home / "content" / "stems.yaml", "#eab08c", "#64122a")
    assert sitegen(home, "build").returncode == 0
    assert len(cached(home).keys() - before.keys()) == len(before) // 2


def test_without_sketches_nothing_is_painted(home: Path) -> None:
    replace(home / "content" / "studio.md", "currency: USD\n", "currency: USD\nsketch: no\n")
    assert sitegen(home, "build").returncode == 0
    assert "<picture>" not in page(home)


def test_a_sketch_that_fails_takes_nothing_with_it(home: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def all_but_one(drawings: Sequence[Drawing], store: Store, *_: object) -> frozenset[Drawing]:
        return make_sketches(drawings[1:], store) | {drawings[0]}

    monkeypatch.setattr("sitegen.build.run.make_sketches", all_but_one)
    shutil.rmtree(home / ".sitegen" / "cache" / "pictures")
    replace(home / "content" / "studio.md", "paper: letter", "paper: a4")
    done = sitegen(home, "build")
    assert done.returncode == 0, done.stderr
    told = "sketch-failed"
    assert told in done.stdout + done.stderr
    assert page(home).count("<picture>") == 1
    assert len(opened(home).photos) == 1
    again = sitegen(home, "build")
    assert told in again.stdout + again.stderr
