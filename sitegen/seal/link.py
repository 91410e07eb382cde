"""The private link: written in one place, and read again after mail and messengers have been at it.

    https://host/<id, 26 symbols>/#<kind, 1><version, 1><secret, 26><check, 4>

Pure text work, done again in `browser/link.js`; both must agree on every text. The check of 20
bits keeps nobody out: it tells a link that was cut or mistyped from one that was replaced.
"""

import hashlib
import re
from dataclasses import dataclass, field
from enum import StrEnum

from sitegen.seal.base32 import SYMBOLS, decode, encode, fold

VERSION = "1"
FRAGMENT = 32

_MOST_TEXT = 4096
_MOST_KEYS = 16
_NOTHING = re.compile("[\u00ad\u200b-\u200f\u2060\ufeff]")
_NOT_ASCII = re.compile(r"[^\x00-\x7f]")
_ESCAPE = re.compile("%([0-7][0-9A-Fa-f])")
_BLANK = re.compile("=?[ \t\r\n\f\v]+[> \t\r\n\f\v]*")
_FOLDER = re.compile("/([0-9A-Za-z]{26})(?![0-9A-Za-z])")
_KEY = re.compile("[cv]([1-9]|$)")
_BARE = re.compile("[^0-9A-Za-z]*([cCvV][1-9iIlL].*)", re.DOTALL)


class Kind(StrEnum):
    CHOOSE = "c"
    VIEW = "v"


class LinkFault(StrEnum):
    """Why a text is no link of ours, each with a way out of its own."""

    NO_KEY = "no key"
    """The part behind `#` did not arrive."""
    CUT = "cut link"
    """Its end is missing."""
    CHANGED = "changed link"
    """Some symbol is another, or the link of one folder stands behind the address of another."""
    NEWER = "newer link"
    """It was made by a later version; this page is old."""


@dataclass(frozen=True, slots=True)
class Link:
    """A whole link: the folder's public id and the secret of its kind."""

    kind: Kind
    pid: bytes
    secret: bytes = field(repr=False)


def fragment(link: Link) -> str:
    """The 32 symbols behind `#`."""
    start = link.kind + VERSION
    return start + encode(link.secret) + _check(start, link.pid, link.secret)


def address(base: str, link: Link) -> str:
    """The whole link below *base*, an address of a host or folder on it."""
    return f"{base.rstrip('/')}/{encode(link.pid)}/#{fragment(link)}"


def read_link(text: str, pid: bytes | None = None) -> Link | LinkFault:
    """Find the link in *text*: an address, a mail that holds one, or its 32 symbols alone.

    *pid* is the folder where it is read, for a text without one. Escapes, capitals, look-alike
    symbols, wrapped and quoted lines, and anything behind the key do no harm.
    """
    plain = _plain(text)
    return _best([_read(one, pid) for one in (plain, _BLANK.sub("", plain))])


def _best(found: list[Link | LinkFault]) -> Link | LinkFault:
    """The first whole link; else the first that looked like a key; else none."""
    whole = (one for one in found if isinstance(one, Link))
    close = (one for one in found if one is not LinkFault.NO_KEY)
    return next(whole, None) or next(close, LinkFault.NO_KEY)


def _plain(text: str) -> str:
    """ASCII alone, bounded, with escapes undone; three times, for rewriters that escape what was escaped."""
    plain = _NOT_ASCII.sub(" ", _NOTHING.sub("", text))[:_MOST_TEXT]
    for _ in range(3):
        plain = _ESCAPE.sub(lambda found: chr(int(found[1], 16)), plain)
    return plain


def _read(text: str, pid: bytes | None) -> Link | LinkFault:
    """Try what follows each `#`; the whole text where there is none."""
    keys = [at.start() for at in re.finditer("#", text)][:_MOST_KEYS]
    if not keys:
        bare = _BARE.match(text)
        return _key(bare[1], pid) if bare else LinkFault.NO_KEY
    return _best([_key(text[at + 1 :], _folder(text[:at]) or pid) for at in keys])


def _folder(address_part: str) -> bytes | None:
    names = [decode(fold(name)) for name in _FOLDER.findall(address_part)]
    return next((name for name in reversed(names) if name is not None), None)


def _key(text: str, pid: bytes | None) -> Link | LinkFault:
    symbols = fold(text[:FRAGMENT])
    run = symbols[: len(symbols) - len(symbols.lstrip(SYMBOLS))]
    if not _KEY.match(run):
        # An address may end in the name of a place on its page; a key of ours begins like this.
        return LinkFault.CHANGED if len(run) == FRAGMENT else LinkFault.NO_KEY
    if len(run) < FRAGMENT or pid is None:
        return LinkFault.CUT
    secret = decode(run[2:28])
    if secret is None or _check(run[:2], pid, secret) != run[28:]:
        return LinkFault.CHANGED
    return Link(Kind(run[0]), pid, secret) if run[1] == VERSION else LinkFault.NEWER


def _check(start: str, pid: bytes, secret: bytes) -> str:
    digest = hashlib.sha256(b"sitegen/1/link" + start.encode() + pid + secret).digest()
    return encode(digest[:3])[:4]
