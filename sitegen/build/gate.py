"""The last look before anything goes out: the very bytes are opened with their key, and searched.

Whatever the types before promise, this gate believes nothing: a private value in a text, a number or
what a camera wrote down keeps everything at home.
"""

import html
import json
import re
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from sitegen.build.event import Worked
from sitegen.build.printed import LEAST_UNITS, places_of
from sitegen.build.private import Private, private_values
from sitegen.publish.reader import Fetch, Opens
from sitegen.publish.site import SealedSite, index_path
from sitegen.seal.failure import Failure
from sitegen.seal.keys import Secrets, choose_link
from sitegen.seal.opening import Opened, open_page, open_photo

_CARRIED = re.compile(r'<script type="application/octet-stream" id="sealed">([^<]*)</script>')
_PICTURE_PARTS = {b"VP8 ", b"VP8L", b"VP8X", b"ALPH", b"ANIM", b"ANMF"}


@dataclass(frozen=True, slots=True)
class Leak:
    """A private value that would go out: it, what it is, where it was found, and the words around it."""

    value: str
    what: str
    where: str
    around: str = ""


def opens_with(own: Secrets) -> Opens:
    """Give the function that opens a page as the couple would, with every picture that it names."""

    def opens(index: bytes, fetch: Fetch) -> str | None:
        found = opened(index, own)
        if isinstance(found, Failure):
            return str(found)
        for place, entry in found.photos.items():
            data = fetch(entry.file)
            photo = Failure.CUT if data is None else open_photo(found.keys, place, entry, data)
            if isinstance(photo, Failure):
                return f"a picture is {photo}"
        return None

    return opens


def opens_plain(index: bytes, _fetch: Fetch) -> str | None:
    """Look whether an unsealed page is whole."""
    return None if index.rstrip().endswith(b"</html>") else str(Failure.CUT)


def opened(index: bytes, own: Secrets) -> Opened | Failure:
    """Open a page's bytes with the couple's key."""
    carried = _CARRIED.search(index.decode("utf-8", "replace"))
    if carried is None:
        return Failure.FOREIGN
    return open_page(carried[1], choose_link(own), own.phrase.words if own.phrase else "")


def leaks(site: SealedSite, own: Secrets, worked: Worked) -> tuple[Leak, ...]:
    """Search all that is going to be sent; what does not open cannot be searched, and counts as a find."""
    index = site.content(index_path(site.pid))
    private = private_values(worked)
    digits = worked.priced.shared.currency.digits
    found: list[Leak] = []
    if worked.folder.event.sealed:
        manifest = opened(index, own)
        if isinstance(manifest, Failure):
            return (Leak(str(manifest), "why it does not open", "the page"),)
        found += _around(index, worked)
        found += _in_texts(dict(manifest.texts), private, digits)
        found += _in_pictures(site, manifest, private)
    else:
        found += _in_texts({"page": _told(index.decode())}, private, digits)
    return tuple(dict.fromkeys(found))


def _told(page: str) -> str:
    """What an unsealed page says, without styles, pictures and our own script."""
    page = re.sub(r"<style>.*?</style>|<script type=\"module\">.*?</script>", " ", page, flags=re.DOTALL)
    return re.sub(r"data:image/[a-z]+;base64,[A-Za-z0-9+/=]*", " ", page)


def _around(index: bytes, worked: Worked) -> Iterator[Leak]:
    """What can be read without the key says nothing of whom it is for."""
    shell = _CARRIED.sub("", index.decode()).lower()
    event, contact = worked.folder.event, worked.priced.shared.studio.contact
    names = [event.for_, event.event, worked.folder.id, *(place.name for place in event.places)]
    for name in (*names, worked.priced.shared.studio.studio, contact.email, contact.phone):
        if name and re.search(rf"\b{re.escape(name.lower())}\b", html.unescape(shell)):
            yield Leak(name, "who it is for", "the part of the page that is not sealed")


def _in_texts(texts: dict[str, str], private: Private, digits: int) -> Iterator[Leak]:
    for where, text in texts.items():
        plain = " ".join(html.unescape(_strings(text)).lower().split())
        for value, what in private.texts.items():
            if value in plain and (at := re.search(rf"(?<!\w){re.escape(value)}(?!\w)", plain)):
                yield Leak(value, what, where, _beside(plain, at.start()))
        visible = html.unescape(re.sub(r"<[^>]*>", " ", text)) if where != "figures" else ""
        numbers = places_of(visible, digits)
        numbers |= dict.fromkeys(_integers(text), 0) if where == "figures" else {}
        for units in sorted(numbers.keys() & private.amounts.keys()):
            around = _beside(visible, numbers[units])
            yield Leak(_amount(units, digits), private.amounts[units], where, around)


def _beside(text: str, at: int) -> str:
    """A few whole words before and after what stands *at* a place of the text."""
    before, after = text[max(at - 300, 0) : at], text[at : at + 300]
    start = re.search(r"(\S+\s+){0,5}\S*$", before)
    end = re.match(r"\S+(\s+\S+){0,4}", after)
    return " ".join(((start[0] if start else "") + (end[0] if end else "")).split())


def _strings(text: str) -> str:
    """The text itself, and where it is JSON its strings without their escapes."""
    try:
        return f"{text} {json.dumps(json.loads(text), ensure_ascii=False)}"
    except ValueError:
        return text


def _integers(text: str) -> Iterator[int]:
    """The numbers of the page's data that are large enough to be told from counts."""

    def walk(data: Any) -> Iterator[int]:
        if isinstance(data, dict):
            data = list(data.values())
        if isinstance(data, list):
            for item in data:
                yield from walk(item)
        elif type(data) is int and abs(data) >= LEAST_UNITS:
            yield abs(data)

    yield from walk(json.loads(text))


def _amount(units: int, digits: int) -> str:
    text = str(units).rjust(digits + 1, "0")
    return f"{text[:-digits]}.{text[-digits:]}" if digits else text


def _in_pictures(site: SealedSite, manifest: Opened, private: Private) -> Iterator[Leak]:
    for place, entry in manifest.photos.items():
        photo = open_photo(manifest.keys, place, entry, site.content(f"{site.pid}/{entry.file}"))
        if isinstance(photo, Failure):
            yield Leak(str(photo), "why it does not open", "a picture")
            continue
        for name in _parts(photo) - _PICTURE_PARTS:
            yield Leak(name.decode("ascii", "replace"), "what a camera wrote down", "a picture")
        for value, what in private.texts.items():
            if len(value) > 7 and value.encode() in photo.lower():
                yield Leak(value, what, "a picture")


def _parts(photo: bytes) -> set[bytes]:
    """The names of a WebP file's chunks (RFC 9649)."""
    found, at = set(), 12
    while at + 8 <= len(photo):
        found.add(photo[at : at + 4])
        size = int.from_bytes(photo[at + 4 : at + 8], "little")
        at += 8 + size + size % 2
    return found
