"""A wedding of forty pieces on paper: all its sheets, on A4 and Letter, read back from the PDF itself."""

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

import pypdfium2
import pytest
from playwright.sync_api import Browser

from tests.browser.forty import pages

pytestmark = pytest.mark.browser
PAPERS = ("A4", "Letter")
POINT = 25.4 / 72
EDGE = 5 / POINT  # nearer to the paper's edge no common printer reaches
SIDE = (14 - 2) / POINT  # the theme's margin; the hours in a drawing stand up to 2 mm in it

# Marks what must not be split, where it can fit on a page: a letter too small to see at its first and last line.
# First all is looked at and then all is marked, since looking after each mark would lay out the whole page again.
MARK = """() => {
  const page = 241 * 96 / 25.4;
  const kept = [];
  for (const one of document.querySelectorAll("main *")) {
    const style = getComputedStyle(one);
    if (style.breakInside !== "avoid" || one.closest("svg, tr") || one.getBoundingClientRect().height > page) continue;
    kept.push([one, style.position]);
  }
  const outer = kept.filter(([one]) => !kept.some(([other]) => other !== one && other.contains(one)));
  outer.forEach(([one, position], n) => {
    if (position === "static") one.style.position = "relative";
    for (const [word, edge] of [["S", "top"], ["E", "bottom"]]) {
      const mark = document.createElement(one.matches("ul, ol") ? "li" : "span");
      mark.textContent = `${word}q${n}q`;
      mark.style = `position:absolute; ${edge}:0; left:0; font:1px/1px monospace; margin:0; padding:0; border:0`;
      one.append(mark);
    }
  });
  return outer.length;
}"""


@dataclass(frozen=True)
class Page:
    """The text of a page, and the boxes of its words: left, bottom, right, top in points."""

    text: str
    boxes: tuple[tuple[float, float, float, float], ...]
    width: float
    height: float


@pytest.fixture(scope="module")
def forty(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("forty")
    for name, text in pages().items():
        (folder / name).write_text(text, "utf-8")
    return folder


def read(data: bytes) -> Iterator[Page]:
    pdf = pypdfium2.PdfDocument(data)
    for page in pdf:
        text = page.get_textpage()
        boxes = tuple(text.get_rect(i) for i in range(text.count_rects()))
        yield Page(text.get_text_range(), boxes, page.get_width(), page.get_height())
    pdf.close()


LABELS = ("labels-10.html", "labels-21.html")  # their paper has margins of its own
FILES = ("order.html", "agreed.html", "for-you-to-make.html", *LABELS)


@pytest.mark.parametrize("name", FILES)
def test_every_page_is_whole(browser: Browser, forty: Path, name: str) -> None:
    """One printing of each file serves all that is asked of its pages, on both papers."""
    page = browser.new_page(viewport={"width": 688, "height": 1000})  # 182 mm, the text on A4
    page.emulate_media(media="print")
    page.goto((forty / name).as_uri())
    page.add_style_tag(content="img { visibility: hidden }")  # in their places, unpainted: for speed
    marked = page.evaluate(MARK)
    for paper in PAPERS:
        pages = list(read(page.pdf(format=paper)))
        assert len(pages) > (40 if name == "order.html" else 1)
        no_text_stands_outside(name, pages)
        pages_are_counted(pages)
        if name not in LABELS:
            assert marked > (100 if name == "order.html" else 0)
            nothing_is_split(marked, pages)
        if name == "order.html":
            a_count_of_hundreds_stands_on_one_line(pages)
    page.close()


def no_text_stands_outside(name: str, pages: Sequence[Page]) -> None:
    for page in pages:
        for left, bottom, right, top in page.boxes:
            assert left > EDGE, page.text  # DRAFT stands in the left margin
            assert right < page.width - (EDGE if name in LABELS else SIDE), page.text
            assert bottom > EDGE, page.text
            assert top < page.height - EDGE, page.text


def pages_are_counted(pages: Sequence[Page]) -> None:
    for i, page in enumerate(pages, 1):
        assert f"page {i} of {len(pages)}" in page.text


def nothing_is_split(marked: int, pages: Sequence[Page]) -> None:
    """Tell by the marks whether what can fit on a page begins and ends on one."""
    first: dict[int, int] = {}
    last: dict[int, int] = {}
    for i, page in enumerate(pages):
        for word, n in re.findall(r"([SE])q(\d+)q", page.text):
            (first if word == "S" else last)[int(n)] = i
    assert len(first) == len(last) == marked
    assert [n for n in first if first[n] != last[n]] == []


def a_count_of_hundreds_stands_on_one_line(pages: Sequence[Page]) -> None:
    lines = [line for page in pages for line in page.text.splitlines()]
    found = [line for line in lines if line.startswith("300 Garden rose, blush")]
    assert len(found) == 2  # on the pull list and on its card
