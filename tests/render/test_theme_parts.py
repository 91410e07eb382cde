"""Any theme shows every part that a couple needs, keeps to its size, and loads nothing."""

import gzip
import re
from pathlib import Path

import pytest
from bs4 import BeautifulSoup

from sitegen.render.pages import couple_page, shell_page
from sitegen.render.shell import shell_of
from sitegen.theme import SHIPPED, Theme, find_theme
from tests.render import sample

ROOT = Path(__file__).parents[2]
THEMES = sorted(
    path.parent.name
    for path in (ROOT / "themes").glob("*/theme.yaml")
    if path.parent.name not in {"common", "desk", "sheets", "labels", "shell"}
)
MOST_LINES = 600
PARTS = (
    "header.opening h1",
    "header.opening time[datetime]",
    "header.opening .spots li",
    "nav[aria-label] a[href='#estimate']",
    "main #note h2",
    "main #colours .swatches li",
    "main .part h2",
    "main .part .piece h3",
    "main .piece .price .line",
    "main .piece fieldset legend",
    "main .piece fieldset input[type=radio]",
    "main .piece .contents table.stems",
    "main #estimate tfoot",
    "main #estimate .payments li",
    "main #choices #send-mail",
    "main #terms",
    "footer .ways",
    "section.bar output[aria-live]",
)


def theme_of(name: str) -> Theme:
    found, problems = find_theme(name, SHIPPED)
    assert problems == []
    assert found is not None
    return found


def test_there_are_three() -> None:
    assert THEMES == ["market-day", "north-window", "recipe-box"]


@pytest.mark.parametrize("name", THEMES)
def test_a_theme_shows_every_part(name: str) -> None:
    page = BeautifulSoup(couple_page(sample.view(), theme_of(name)), "html.parser")
    assert [part for part in PARTS if not page.select(part)] == []
    assert len({one["id"] for one in page.select("[id]")}) == len(page.select("[id]"))


@pytest.mark.parametrize("name", THEMES)
def test_a_theme_is_style_alone(name: str) -> None:
    folder = ROOT / "themes" / name
    assert not [
        path for path in folder.rglob("*") if path.suffix in {".js", ".py", ".woff", ".woff2", ".ttf"}
    ]
    for style in folder.glob("*.css"):
        text = style.read_text("utf-8")
        assert len(text.splitlines()) <= MOST_LINES
        assert not re.search(r"url\(|@import|@font-face", text), "a theme loads nothing"
        for wanted in ("prefers-color-scheme: dark", "@media print", "@container page"):
            assert wanted in text


@pytest.mark.parametrize("name", THEMES)
def test_what_comes_before_the_sealed_part_is_small(name: str) -> None:
    shell = theme_of("shell")
    page = shell_page("shell.html", shell_of("", "en-US", "letter", theme_of(name), shell), shell)
    assert len(gzip.compress(page.encode(), mtime=0)) < 25_000
