"""The way back: what a reader's page does, done here to check what was published."""

import json
from collections.abc import Mapping
from dataclasses import dataclass

from sitegen.seal.base32 import encode
from sitegen.seal.bundle import MANIFEST, Entry, photo_place
from sitegen.seal.cover import Cover, read_cover
from sitegen.seal.envelope import DIGEST, HEADER, MAGIC, Role, unpadded
from sitegen.seal.failure import Failure
from sitegen.seal.keys import link_keys
from sitegen.seal.link import Link
from sitegen.seal.lock import Keys, open_sealed
from sitegen.seal.phrase import normal, phrase_key


@dataclass(frozen=True, slots=True)
class Opened:
    """A manifest as it was sealed, and the keys of its photos, which are named by slot and width."""

    keys: Keys
    revision: int | None
    built: str
    texts: Mapping[str, str]
    photos: Mapping[str, Entry]


def open_page(page: str, link: Link, phrase: str = "") -> Opened | Failure:
    """Open the text that a page carries."""
    cover = read_cover(page)
    if isinstance(cover, Failure):
        return cover
    keys = _keys(cover, link, phrase)
    if isinstance(keys, Failure):
        return keys
    plain = _content(keys, Role.MANIFEST, MANIFEST, cover.sealed)
    if plain is Failure.DAMAGED:
        # The cover's sum fits, so nothing happened to these bytes by accident.
        return Failure.WRONG_PHRASE if cover.stretch else Failure.OTHER_KEY
    return plain if isinstance(plain, Failure) else _manifest(keys, plain)


def open_photo(keys: Keys, place: str, entry: Entry, data: bytes) -> bytes | Failure:
    """Open a photo's file; any other file than the one in the manifest is refused before it is opened."""
    if data[: len(MAGIC)] != MAGIC:
        return Failure.FOREIGN
    if len(data) != entry.length:
        return Failure.CUT if len(data) < entry.length else Failure.DAMAGED
    if encode(data[HEADER : HEADER + DIGEST]) != entry.digest:
        return Failure.DAMAGED
    return _content(keys, Role.PHOTO, photo_place(place), data)


def _keys(cover: Cover, link: Link, phrase: str) -> Keys | Failure:
    if cover.stretch is None:
        return link_keys(link)
    if not normal(phrase):
        return Failure.NO_PHRASE
    key = phrase_key(phrase, cover.stretch)
    return key if isinstance(key, Failure) else link_keys(link, key)


def _content(keys: Keys, role: Role, place: str, data: bytes) -> bytes | Failure:
    plain = open_sealed(keys, role, place, data)
    return plain if isinstance(plain, Failure) else unpadded(plain, role)


def _manifest(keys: Keys, plain: bytes) -> Opened | Failure:
    try:
        data = json.loads(plain)
        photos = {place: Entry(*entry) for place, entry in data["photos"].items()}
        return Opened(keys, data["revision"], data["built"], data["texts"], photos)
    except (ValueError, KeyError, TypeError, AttributeError):
        return Failure.NEWER
