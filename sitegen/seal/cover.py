"""The one text that a published page carries: the sealed manifest and how its keys come about.

    "SGP1" | suite (1) | 0 0 0 | suite 2: salt (16), rounds (4) | sealed manifest | SHA-256 of all before (4)

in standard base 64 (RFC 4648). The sum at the end protects nothing: it tells damage by accident
from a wrong phrase and from a page that was replaced, which need other words to the reader.
"""

import base64
import hashlib
import re
from dataclasses import dataclass

from sitegen.seal.envelope import MOST, OVERHEAD, Role, Suite
from sitegen.seal.failure import Failure

ROUNDS = 600_000
"""PBKDF2 rounds with SHA-256: OWASP Password Storage Cheat Sheet, as of 2026."""
MOST_ROUNDS = 5_000_000
"""More would let a changed page keep a phone busy for minutes."""

_MAGIC = b"SGP1"
_HEADER = 8
_SALT = 16
_SUM = 4
_BASE64 = re.compile("[0-9A-Za-z+/]*={0,2}")
_MOST = _HEADER + _SALT + 4 + OVERHEAD + MOST[Role.MANIFEST] + _SUM


@dataclass(frozen=True, slots=True)
class Stretch:
    """How a phrase becomes a key; public."""

    salt: bytes
    rounds: int = ROUNDS

    @property
    def allowed(self) -> bool:
        return len(self.salt) == _SALT and ROUNDS <= self.rounds <= MOST_ROUNDS


@dataclass(frozen=True, slots=True)
class Cover:
    """*stretch* is there where, and only where, a phrase is needed."""

    stretch: Stretch | None
    sealed: bytes

    @property
    def suite(self) -> Suite:
        return Suite.PHRASE if self.stretch else Suite.LINK


def summed(data: bytes) -> bytes:
    """Put a short sum behind *data*, by which accidents are found."""
    return data + hashlib.sha256(data).digest()[:_SUM]


def unsummed(data: bytes) -> bytes | None:
    """Take the sum off; None where it does not fit."""
    return data[:-_SUM] if summed(data[:-_SUM]) == data else None


def cover_text(cover: Cover) -> str:
    extra = cover.stretch.salt + cover.stretch.rounds.to_bytes(4) if cover.stretch else b""
    data = _MAGIC + bytes((cover.suite, 0, 0, 0)) + extra + cover.sealed
    return base64.b64encode(summed(data)).decode()


def read_cover(text: str) -> Cover | Failure:
    """Read what `cover_text` wrote, with blanks around it; every cover is read in one way only."""
    data = _from_base64(text.strip(" \t\r\n"))
    if isinstance(data, Failure):
        return data
    if data[:3] != _MAGIC[:3]:
        return Failure.FOREIGN
    body = unsummed(data)
    if body is None:
        return Failure.DAMAGED
    if data[3] != _MAGIC[3] or body[4] not in set(Suite):
        return Failure.NEWER
    if any(body[5:_HEADER]):
        return Failure.DAMAGED
    return _cover(Suite(body[4]), body[_HEADER:])


def _from_base64(text: str) -> bytes | Failure:
    if len(text) > -(-_MOST // 3) * 4:
        return Failure.TOO_LARGE
    if len(text) % 4 or not _BASE64.fullmatch(text):
        return Failure.CUT if text.startswith("U0dQ") else Failure.FOREIGN
    data = base64.b64decode(text)
    if len(data) < _HEADER + OVERHEAD + _SUM:
        return Failure.CUT if data[:3] == _MAGIC[:3] else Failure.FOREIGN
    return data if base64.b64encode(data).decode() == text else Failure.DAMAGED


def _cover(suite: Suite, rest: bytes) -> Cover | Failure:
    if suite is Suite.LINK:
        return Cover(None, rest)
    stretch = Stretch(rest[:_SALT], int.from_bytes(rest[_SALT : _SALT + 4]))
    return Cover(stretch, rest[_SALT + 4 :]) if stretch.allowed else Failure.WEAK
