"""From a file or pasted text to the texts in it: mail is taken apart, pages of HTML are read as text.

The door to BeautifulSoup. Foreign bytes never fail here: what cannot be read in one way is read in another.
"""

import email
import email.policy
import re
from collections.abc import Iterator
from email.message import EmailMessage, Message

from bs4 import BeautifulSoup

LARGEST = 30_000_000
_MOST_PART = 4_000_000
_MOST_PARTS = 50
_ANY_CASE = re.IGNORECASE
_HEAD = re.compile(
    rb"\s*(?:From|Return-Path|Received|Delivered-To|MIME-Version|Message-ID|Subject|Date|To|Content-Type"
    rb"|DKIM-Signature|ARC-[\w-]+|X-[\w-]+)[ \t]?:",
    re.IGNORECASE,
)
_BODY = re.compile(rb"^(?:MIME-Version|Content-Type|Message-ID|Received)[ \t]?:", _ANY_CASE | re.MULTILINE)
_TAG = re.compile(r"<(/?)([a-z][a-z0-9]*)\b[^<>]*>", re.IGNORECASE)
_DEEPEST = 500  # tags within tags: far more than a mail has, and few enough for the parser
_EMPTY = {"br", "img", "hr", "meta", "link", "input", "wbr", "col", "p", "li", "td", "tr"}
_PAGE = re.compile(r"<(?:html|body|div|p|br|table|span|blockquote)\b[^<>]*>", re.IGNORECASE)
_BREAKS = ("br", "p", "div", "tr", "li", "blockquote", "h1", "h2", "h3")


def texts_in(data: bytes) -> tuple[str, ...]:
    """Give every text in *data*: the parts of a mail, each as people read it, or the text that it is."""
    plain = _decoded(data[:LARGEST])
    if not _is_mail(data):
        return (_as_read(plain),)
    parts = tuple(_parts(email.message_from_bytes(data[:LARGEST], policy=email.policy.default)))
    return parts or (_as_read(plain),)


def _is_mail(data: bytes) -> bool:
    """Tell a mail's source from text that somebody pasted, which may begin with "From:" as well."""
    return bool(_HEAD.match(data)) and bool(_BODY.search(data[:100_000]))


def _parts(mail: Message) -> Iterator[str]:
    """Every part that is text, those of forwarded mails too; the plain ones stand first in most mails."""
    for part in list(mail.walk())[:_MOST_PARTS]:
        kind = part.get_content_type()
        if part.get_content_maintype() == "text":
            text = _content(part)[:_MOST_PART]
            yield page_text(text) if kind == "text/html" else text


def _content(part: Message) -> str:
    """A part's text; one in a character set that does not exist is read as well as it can be."""
    try:
        if isinstance(part, EmailMessage):
            content = part.get_content()
            return content if isinstance(content, str) else ""
    except (LookupError, ValueError, KeyError, AssertionError):
        pass
    payload = part.get_payload(decode=True)
    return _decoded(payload) if isinstance(payload, bytes) else ""


def _decoded(data: bytes) -> str:
    """UTF-16 where it says so, UTF-8 where it is, else Latin-1, in which every byte is some letter."""
    if data[:2] in {b"\xff\xfe", b"\xfe\xff"}:
        return data.decode("utf-16", "replace")
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError:
        return data.decode("cp1252", "replace")


def _as_read(text: str) -> str:
    return page_text(text) if _PAGE.search(text[:_MOST_PART]) else text


def page_text(html: str) -> str:
    """The text of a page as it is read: no markup, scripts or styles, and line ends where they show."""
    html = html[:_MOST_PART]
    if _depth(html) > _DEEPEST:
        return _TAG.sub("\n", html)
    page = BeautifulSoup(html, "html.parser")
    for hidden in page(["script", "style", "head", "title"]):
        hidden.decompose()
    for tag in page(list(_BREAKS)):
        tag.append("\n")
    return page.get_text()


def _depth(html: str) -> int:
    """How deep tags lie within each other, at least; those that are often left open close themselves."""
    depth = deepest = 0
    for found in _TAG.finditer(html):
        if found[2].lower() not in _EMPTY:
            depth = max(0, depth - 1) if found[1] else depth + 1
            deepest = max(deepest, depth)
    return deepest
