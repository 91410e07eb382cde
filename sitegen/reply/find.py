"""Finds every code in a text, whatever mail and messengers have done to it.

Between a code's symbols anything but letters and digits is passed over: quoting, wrapped lines, invisible
signs, hyphens of every kind or none.
"""

import quopri
import re
import unicodedata
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from enum import StrEnum
from html import unescape
from urllib.parse import unquote

from sitegen.reply.code import END, START, VERSION, Packed, symbols_of, unpack
from sitegen.seal.base32 import SYMBOLS, fold

MOST_TEXT = 4_000_000
MOST_CODES = 50

_HIDDEN = re.compile("[\u00ad\u034f\u200b-\u200f\u202a-\u202e\u2060-\u2069\ufe00-\ufe0f\ufeff]")
_OTHER = re.compile("[^0-9A-Za-z]+")
_BEGIN = re.compile(f"(?<![A-Za-z]){START}([1-9il])", re.IGNORECASE)
_BARE = re.compile(rf"(?:\b[0-9A-TV-Z]{{5}}-){{5}}|-{END}\b")
_SOFT = re.compile("=(?:[0-9A-F]{2}|[ \t]*\r?$)", re.MULTILINE | re.IGNORECASE)
_TAG = re.compile("<[a-z/!][^<>]{0,300}>", re.IGNORECASE)
_LINE_ENDS = re.compile("<(?:br|/p|/div|/tr|/li|/h[1-6])\\b", re.IGNORECASE)
_LAYERS = 3
_TAIL = 20  # symbols more than a code has, within which its end still tells that it was not cut


class Broken(StrEnum):
    """Why what looks like a code is none."""

    CUT = "cut"
    """Its end is missing."""
    DAMAGED = "damaged"
    """Some symbol is another, or missing, or one too many."""
    NEWER = "newer"
    """A later version of this program made it."""


@dataclass(frozen=True, slots=True)
class Found:
    """The codes in a text: whole ones once each, and how others are broken, in their order."""

    whole: tuple[Packed, ...] = ()
    broken: tuple[Broken, ...] = ()


def find(text: str) -> Found:
    """Find every code in *text*: as it stands, and with what mail and web pages write undone.

    Of broken ones only the reading that has the fewest is told: most are whole in another.
    """
    text = text[:MOST_TEXT]
    readings = [_read(reading) for reading in _readings(text)]
    best = max(readings, key=lambda found: (len(found.whole), -len(found.broken)))
    if not any(found.whole for found in readings):
        # A line may have been broken within an escape.
        readings += [_read(reading) for reading in _readings("".join(text.split()))]
    whole = {packed.digest: packed for found in readings for packed in found.whole}
    broken = () if whole and not best.whole else best.broken
    if not whole and not broken and _BARE.search(text):
        broken = (Broken.DAMAGED,)  # the groups of a code, whose own beginning is gone
    return Found(tuple(whole.values())[:MOST_CODES], broken[:MOST_CODES])


def together(parts: Iterable[Found]) -> Found:
    """Put findings of several parts of one mail together, which mostly say the same twice."""
    found = list(parts)
    best = max(found, key=lambda one: (len(one.whole), -len(one.broken)), default=Found())
    whole = {packed.digest: packed for one in found for packed in one.whole}
    broken = best.broken or next((one.broken for one in found if one.broken and not whole), ())
    return Found(tuple(whole.values()), broken)


def _readings(text: str) -> Iterator[str]:
    """The text as it is, then with its escapes undone, as often as they were put on one another."""
    for _ in range(_LAYERS):
        text = unicodedata.normalize("NFKC", _HIDDEN.sub("", text))
        yield text
        before = text
        if _SOFT.search(text):
            text = _quoted_printable(text)
            yield text
        if "&" in text or _TAG.search(text):
            text = unescape(_TAG.sub(_for_tag, text))
        elif "%" in text:
            text = unquote(text, errors="replace")
        if text == before:
            return


def _for_tag(found: re.Match[str]) -> str:
    return "\n" if _LINE_ENDS.match(found[0]) else ""


def _quoted_printable(text: str) -> str:
    return quopri.decodestring(text.encode(errors="replace")).decode(errors="replace")


def _read(text: str) -> Found:
    """Read what follows each beginning; where none is, try once more with all else taken out."""
    found = _codes(text)
    if found.whole or found.broken:
        return found
    return Found(_codes(_OTHER.sub("", text), anywhere=True).whole)


def _codes(text: str, *, anywhere: bool = False) -> Found:
    begin = re.compile(f"{START}([1il])", re.IGNORECASE) if anywhere else _BEGIN
    starts = list(begin.finditer(text))[:MOST_CODES]
    ends = [*(start.start() for start in starts[1:]), len(text)]
    read = [_one(start[1], text[start.end() : end]) for start, end in zip(starts, ends, strict=False)]
    whole = {one.digest: one for one in read if isinstance(one, Packed)}
    return Found(tuple(whole.values()), tuple(one for one in read if isinstance(one, Broken)))


def _one(version: str, text: str) -> Packed | Broken:
    """Read the code at the beginning of *text*."""
    stream = fold(_OTHER.sub("", text[:20_000]))
    if fold(version) != VERSION:
        return Broken.NEWER
    size = symbols_of(stream[:2])
    if size is not None and len(stream) >= size and (packed := unpack(stream[:size])):
        return packed
    return Broken.DAMAGED if _ended(stream, size) else Broken.CUT


def _ended(stream: str, size: int | None) -> bool:
    """Tell whether the end mark arrived, so that nothing was cut off before it."""
    end = stream.find(END.lower())
    if end < 0 or (size is not None and end > size + _TAIL):
        return False
    return all(symbol in SYMBOLS for symbol in stream[: max(0, end - _TAIL)])
