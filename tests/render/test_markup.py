"""Every kind of page is HTML without a mistake, and what its parts name is there.

Source: html5lib, an implementation of the HTML standard's parser that is not ours. It is older than `template`, so what
stands in one is parsed by itself.
"""

import re
from collections.abc import Iterator
from pathlib import Path
from xml.etree.ElementTree import Element

import html5lib
import pytest
from html5lib.html5parser import ParseError

EVENT = "2027-06-19-quillet-farm"
ON_THE_DESK = ("proposal", "index", "order", "agreed", "for-you-to-make", "labels-10", "labels-21")
_TEMPLATE = re.compile(r"<template[^>]*>(.*?)</template>", re.DOTALL)
_POINTS = ("for", "aria-labelledby", "aria-describedby", "aria-controls", "list")


def parsed(text: str) -> Element:
    """The page's tree; raises ParseError for the first mistake in it."""
    for inner in _TEMPLATE.findall(text):
        within = "tbody" if inner.startswith("<tr") else "div"
        html5lib.HTMLParser(strict=True).parseFragment(inner, container=within)
    found: Element = html5lib.HTMLParser(strict=True, namespaceHTMLElements=False).parse(
        _TEMPLATE.sub("", text)
    )
    return found


def wrong(page: Element) -> Iterator[str]:
    """Ids that stand twice, names of parts that are not there, and pictures of which nothing is said."""
    ids = [one.get("id") for one in page.iter() if one.get("id") is not None]
    yield from (f"twice: {one}" for one in {one for one in ids if ids.count(one) > 1})
    for one in page.iter():
        named = [name for key in _POINTS for name in (one.get(key) or "").split()]
        href = one.get("href") or ""
        named += [href[1:]] if len(href) > 1 and href[0] == "#" else []
        yield from (f"nowhere: {name}" for name in named if name not in ids)
        if one.tag == "img" and len((one.get("alt") or "").split()) < 2:
            yield f"nothing is said of {one.get('src')}"


@pytest.fixture(scope="module")
def pages(demo: Path) -> dict[str, Path]:
    desk, sealed = demo / "out" / "desk", demo / "out" / "sealed"
    found = {name: desk / EVENT / f"{name}.html" for name in ON_THE_DESK}
    first = min(sealed.glob("*/index.html"), key=lambda path: path.stat().st_size)
    return {**found, "desk": desk / "index.html", "404": sealed / "404.html", "sealed": first}


@pytest.mark.parametrize("name", [*ON_THE_DESK, "desk", "404", "sealed"])
def test_a_page_is_html_without_a_mistake(name: str, pages: dict[str, Path]) -> None:
    assert list(wrong(parsed(pages[name].read_text("utf-8")))) == []


def test_a_mistake_would_be_found() -> None:
    head = '<!doctype html><html lang="en"><head><title>A</title></head><body>'
    for text in ("<p><div></p>", "<p>&nosuch;</p>", '<p class="a" class="b"></p>', "<table><p></p></table>"):
        with pytest.raises(ParseError):
            parsed(f"{head}{text}</body></html>")
    page = parsed(f'{head}<i id="a"></i><b id="a"></b><a href="#c">C</a><img src="d" alt=""></body></html>')
    assert len(list(wrong(page))) == 3
