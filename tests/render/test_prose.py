"""Markdown of an author: what it may bring to a page, and that nothing else gets there."""

import pytest
from bs4 import BeautifulSoup
from hypothesis import given
from hypothesis import strategies as st

from sitegen.model.fields import MOST_WORDS
from sitegen.render.prose import letter, prose

ALLOWED = {
    "p", "br", "strong", "em", "a", "ul", "ol", "li", "blockquote", "h3", "h4", "h5", "h6", "hr", "code",
    "pre", "table", "thead", "tbody", "tr", "th", "td",
}  # fmt: skip
HOSTILE = [
    "<script>alert(1)</script>",
    "<img src=x onerror=alert(1)>",
    "![x](https://elsewhere.example/x.png)",
    "[x](javascript:alert(1))",
    "[x](//elsewhere.example/x)",
    "[x](/x) [y](#c1000g40r40m30e209185gr38e1wjhf1) [z](x.html)",
    "[x](data:text/html;base64,PHNjcmlwdD4=)",
    "[x]: javascript:alert(1)\n\n[x]",
    "<javascript:alert(1)>",
    "<div style='position:fixed'>\n\nover all\n\n</div>",
    "<svg/onload=alert(1)>",
    "a <b onclick=alert(1)>b</b>",
    "`<script>`\n\n    <script>",
    "&lt;script&gt;alert(1)&lt;/script&gt;",
    "[x](https://a.example 'q\" onmouseover=\"alert(1)')",
    "<!-- <script> -->",
    "<style>*{display:none}</style>",
    "<iframe srcdoc='<script>alert(1)</script>'>",
]


def check_inert(html: str) -> None:
    for tag in BeautifulSoup(html, "html.parser").select("*"):
        assert tag.name in ALLOWED
        assert set(tag.attrs) <= {"href", "title", "rel", "start"}
        assert str(tag.get("href", "https:")).partition(":")[0] in {"http", "https", "mailto", "tel"}


@pytest.mark.parametrize("text", HOSTILE)
def test_markup_and_script_are_inert(text: str) -> None:
    check_inert(prose(text))


@given(st.text("<>/=!-&;:[]()'\"`*_#\n\t scriptonlad1.", max_size=200))
def test_no_text_brings_a_tag_of_its_own(text: str) -> None:
    check_inert(prose(text))


def test_tags_are_shown_as_typed() -> None:
    assert BeautifulSoup(prose("a <b>bold</b> word"), "html.parser").text.strip() == "a <b>bold</b> word"


def test_what_markdown_may_bring() -> None:
    html = prose(
        "**Loose**\n\n- one\n- two\n\n| a | b |\n|---|---|\n| 1 | 2 |\n\n[us](https://studio.example)"
    )
    assert "<strong>Loose</strong>" in html
    assert html.count("<li>") == 2
    assert "<td>2</td>" in html
    assert '<a href="https://studio.example" rel="noopener noreferrer">us</a>' in html


@pytest.mark.parametrize(("text", "levels"), [("# A\n\n## B", ["h3", "h4"]), ("### A\n\n# B", ["h5", "h3"])])
def test_headings_begin_below_the_pages_own(text: str, levels: list[str]) -> None:
    found = BeautifulSoup(prose(text), "html.parser").find_all(["h1", "h2", "h3", "h4", "h5", "h6"])
    assert [tag.name for tag in found] == levels


@pytest.mark.parametrize(
    "text", [">" * 10_000 + "x", "".join("    " * d + "- x\n" for d in range(95)), "*x" * 10_000]
)
def test_the_deepest_nesting_that_fits_a_text_is_survived(text: str) -> None:
    assert len(text) <= MOST_WORDS
    check_inert(prose(text))
    assert "x" in prose(text)


def test_a_text_is_made_once_and_leaves_nothing_behind_for_the_next() -> None:
    prose("[a]: https://one.example\n\n[a]")
    assert "href" not in prose("[a] alone")
    assert prose("the same") is prose("the same")


@pytest.mark.parametrize(
    ("text", "greeting", "signed", "body"),
    [
        ("Dear Ada and Ben,\n\nA garden.\n\nUna", "Dear Ada and Ben", "Una", "A garden."),
        ("# For you both\n\nA garden.", "For you both", "", "A garden."),
        ("A garden.\n\nIt is loose.", "", "", "A garden. It is loose."),
        ("Dear Ada,", "Dear Ada", "", ""),
        ("Dear Ada,\nwith a second line\n\nbody", "", "body", "Dear Ada, with a second line"),
        ("", "", "", ""),
    ],
)
def test_a_letter_gives_its_greeting_and_its_name(text: str, greeting: str, signed: str, body: str) -> None:
    found = letter(text)
    words = " ".join(BeautifulSoup(found.html, "html.parser").text.split())
    assert (found.greeting, found.signed, words) == (greeting, signed, body)
