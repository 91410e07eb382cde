"""Everything that one couple's site shows, to what is published: a text for the page, a file for each photo.

What may be published is decided before: a bundle holds finished texts and photos and nothing else.
"""

import hashlib
import json
import re
from collections.abc import Mapping
from dataclasses import dataclass

from sitegen.seal.base32 import encode
from sitegen.seal.cover import Cover, cover_text
from sitegen.seal.envelope import DIGEST, HEADER, Role, padded, room
from sitegen.seal.keys import Secrets, keys_of
from sitegen.seal.lock import Keys, seal

MANIFEST = "manifest"
_SLOT = re.compile(r"[a-z0-9][a-z0-9-]{0,63}")


@dataclass(frozen=True, slots=True)
class Photo:
    """One picture at one width. *slot*: small letters, digits, hyphens; *kind* is its media type."""

    slot: str
    width: int
    kind: str
    data: bytes

    @property
    def place(self) -> str:
        return f"{self.slot}/{self.width}"


@dataclass(frozen=True, slots=True)
class Bundle:
    """*texts* are what the page is made of, by name; *built* is given, never taken from a clock."""

    revision: int | None
    built: str
    texts: Mapping[str, str]
    photos: tuple[Photo, ...] = ()


@dataclass(frozen=True, slots=True)
class Entry:
    """A sealed photo as the manifest knows it: its file and that one's length, digest in base 32, kind."""

    file: str
    length: int
    digest: str
    kind: str


@dataclass(frozen=True, slots=True)
class Sealed:
    """What goes out: *page*, the text that the page carries, and *files* by their names beside it."""

    page: str
    files: Mapping[str, bytes]


@dataclass(frozen=True, slots=True)
class Oversize:
    """A part that is too large to be sealed: `manifest`, or a photo's place."""

    place: str
    size: int
    most: int


def seal_bundle(own: Secrets, bundle: Bundle) -> Sealed | Oversize:
    """Seal everything in *bundle*. Same input, same bytes; unchanged photos keep their names."""
    keys = keys_of(own)
    files: dict[str, bytes] = {}
    entries: dict[str, Entry] = {}
    for photo in bundle.photos:
        if not _SLOT.fullmatch(photo.slot) or photo.place in entries:
            raise ValueError(f"no photo can be at {photo.place}")
        sealed = _fitting(keys, Role.PHOTO, photo.place, photo.data)
        if isinstance(sealed, Oversize):
            return sealed
        entry = _entry(sealed, photo.kind)
        files[entry.file], entries[photo.place] = sealed, entry
    manifest = _fitting(keys, Role.MANIFEST, MANIFEST, _manifest(bundle, entries))
    if isinstance(manifest, Oversize):
        return manifest
    return Sealed(cover_text(Cover(own.phrase.stretch if own.phrase else None, manifest)), files)


def photo_place(place: str) -> str:
    """The place that a photo's seal is bound to."""
    return f"photo/{place}"


def _fitting(keys: Keys, role: Role, place: str, content: bytes) -> bytes | Oversize:
    if len(content) > room(role):
        return Oversize(place, len(content), room(role))
    bound = place if role is Role.MANIFEST else photo_place(place)
    return seal(keys, role, bound, padded(content, role))


def blob_name(sealed: bytes) -> str:
    """A published file's name: 128 bits of the SHA-256 of its bytes, so that no name changes its meaning."""
    return f"b/{encode(hashlib.sha256(sealed).digest()[:16])}.bin"


def _entry(sealed: bytes, kind: str) -> Entry:
    return Entry(blob_name(sealed), len(sealed), encode(sealed[HEADER : HEADER + DIGEST]), kind)


def _manifest(bundle: Bundle, entries: Mapping[str, Entry]) -> bytes:
    photos = {place: [entry.file, entry.length, entry.digest, entry.kind] for place, entry in entries.items()}
    data = {
        "revision": bundle.revision,
        "built": bundle.built,
        "texts": dict(bundle.texts),
        "photos": photos,
    }
    return json.dumps(data, ensure_ascii=False, sort_keys=True, separators=(",", ":")).encode()
