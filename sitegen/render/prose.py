"""Markdown of an author to HTML that is safe to put into any page. The only import of markdown and nh3.

Raw HTML is not Markdown here: it is shown as the text it is. Pictures are dropped, because photos come
from the front matter, where they are checked and freed of what cameras write into them. Links
go to the web, mail and phone only.
"""

import re
from dataclasses import dataclass
from functools import lru_cache
from xml.etree.ElementTree import Element

import nh3
from markdown import Markdown
from markdown.treeprocessors import Treeprocessor
from markupsafe import Markup

_TAGS = {
    "p",
    "br",
    "strong",
    "em",
    "a",
    "ul",
    "ol",
    "li",
    "blockquote",
    "h3",
    "h4",
    "h5",
    "h6",
    "hr",
    "code",
    "pre",
}
_TABLES = {"table", "thead", "tbody", "tr", "th", "td"}
_ATTRIBUTES = {"a": {"href", "title"}, "ol": {"start"}}
_SCHEMES = {"http", "https", "mailto", "tel"}
_GREETING = re.compile(r"#{1,3}[ \t]+([^\n]+?)[ \t]*#*|([^\n]{1,80}),")
_SIGNED = re.compile(r"[^\W\d_][^\n.!?:*#>|]{0,40}")


@dataclass(frozen=True, slots=True)
class Letter:
    """A letter: its greeting and the name it is signed with, where it has them, and the rest as HTML."""

    greeting: str
    html: Markup
    signed: str


class _LowerHeadings(Treeprocessor):
    """The page's own headings are the first and second level, so an author's begin at the third."""

    def run(self, root: Element) -> None:
        headings = [element for element in root.iter() if re.fullmatch("h[1-6]", element.tag)]
        first = min((int(element.tag[1]) for element in headings), default=3)
        for element in headings:
            element.tag = f"h{min(6, int(element.tag[1]) - first + 3)}"


@lru_cache(maxsize=1)
def _reader() -> Markdown:
    reader = Markdown(extensions=["tables", "sane_lists"], output_format="html")
    # Without these two a tag in the source is text like any other, and comes out escaped.
    reader.preprocessors.deregister("html_block")
    reader.inlinePatterns.deregister("html")
    reader.treeprocessors.register(_LowerHeadings(reader), "lower_headings", 0)
    return reader


@lru_cache(maxsize=8192)
def prose(text: str) -> Markup:
    """Make *text* into safe HTML; the same text is made once. Its length was bounded when it was checked."""
    if not text.strip():
        return Markup()
    html = _reader().reset().convert(text)
    return Markup(  # noqa: S704 - this is the one place where cleaned HTML is declared safe
        nh3.clean(
            html,
            tags=_TAGS | _TABLES,
            attributes=_ATTRIBUTES,
            url_schemes=_SCHEMES,
            link_rel="noopener noreferrer",
            # A page is read at the address of a host and as a file that was mailed: nothing lies beside both.
            url_relative="deny",
        )
    )


def letter(text: str) -> Letter:
    """Part a first line such as `Dear Ana and Noor,` or a heading, and a name at the end, from the rest."""
    paragraphs = text.strip().split("\n\n")
    greeting = _GREETING.fullmatch(paragraphs[0].strip())
    if greeting:
        paragraphs = paragraphs[1:]
    signed = _SIGNED.fullmatch(paragraphs[-1].strip()) if len(paragraphs) > 1 else None
    if signed:
        paragraphs = paragraphs[:-1]
    said = (greeting[1] or greeting[2]) if greeting else ""
    return Letter(said, prose("\n\n".join(paragraphs)), signed[0] if signed else "")
