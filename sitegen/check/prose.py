"""Words of an author: how much of them a page can carry."""

import re

from sitegen.load.front import Document
from sitegen.model.fields import MOST_WORDS
from sitegen.values.number import shorten
from sitegen.values.problem import Problem
from sitegen.values.source import Place

MOST_BRACKETS = 500
_PICTURE = re.compile(r"!\[[^\]\n]*\]\(([^)\s]+)[^)\n]*\)|<img\b[^>]*>", re.IGNORECASE)
_CONTROL = re.compile(r"[\x00-\x08\x0b-\x1f\x7f-\x9f]")


def check_words(document: Document) -> list[Problem]:
    """Refuse a body that is too long, or a paragraph on which Markdown would take quadratic time."""
    body = document.body
    problems = []
    if len(body) > MOST_WORDS:
        what = f"{len(body):,} characters are too many for one text"
        place = _at(document, 0)
        problems.append(_problem("words-long", place, what, f"at most {MOST_WORDS:,}; cut it"))
    if control := _CONTROL.search(body):
        what = "a control character stands here"
        problems.append(_problem("words-control", _at(document, control.start()), what, "delete it"))
    if picture := _PICTURE.search(body):
        problems.append(_picture(document, picture))
    offset = 0
    for paragraph in body.split("\n\n"):
        if paragraph.count("[") > MOST_BRACKETS:
            what = f"more than {MOST_BRACKETS} [ stand in one paragraph"
            place = _at(document, offset + paragraph.index("["))
            problems.append(
                _problem("words-brackets", place, what, "break it into paragraphs, or delete them")
            )
        offset += len(paragraph) + 2
    return problems


def _at(document: Document, offset: int) -> Place:
    start = document.body_start + offset
    return Place(document.source, start, start + 1)


def _picture(document: Document, found: re.Match[str]) -> Problem:
    start = document.body_start + found.start()
    place = Place(document.source, start, start + len(found[0]))
    what = "a picture among the words is not shown"
    why = "Pictures stand with their piece, in several sizes and with words for those who cannot see them."
    name = (found[1] or "").rsplit("/", 1)[-1] or "rose.jpg"
    entry = f"{{file: {shorten(name)}, alt: what is seen}}"
    fix = f"delete it here, and write {entry} under photos: of its piece"
    return Problem("words-picture", place, what, why, fix, "warning")


def _problem(code: str, place: Place, what: str, fix: str) -> Problem:
    why = "A couple reads this on a phone, and the page must open at once."
    if code == "words-control":
        why = "Nobody sees it, and the words around it may come out garbled."
    return Problem(code, place, what, why, fix)
