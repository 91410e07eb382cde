"""The bytes of one sealed object, format SGS1: layout, limits, canonical reading. No cryptography here.

    "SGS1" | suite (1) | role (1) | 0 0 | digest S (32) | AES-256-GCM ciphertext | tag (16)

Inside is the content behind its length and in front of noughts, so that its size tells little.
"""

from dataclasses import dataclass
from enum import IntEnum

from sitegen.seal.failure import Failure

MAGIC = b"SGS1"
HEADER = 8
DIGEST = 32
TAG = 16
OVERHEAD = HEADER + DIGEST + TAG
_LENGTH = 4


class Suite(IntEnum):
    """How the keys come about; a later one never changes what an earlier one means."""

    LINK = 1
    """From the link's secret alone."""
    PHRASE = 2
    """From the link's secret and a phrase."""


class Role(IntEnum):
    """What is sealed, so that nothing passes for something else."""

    MANIFEST = 1
    PHOTO = 2


# AES-GCM opens in one piece, so a reader holds all of it twice: phones have little room.
MOST = {Role.MANIFEST: 1 << 20, Role.PHOTO: 4 << 20}
BLOCK = {Role.MANIFEST: 4096, Role.PHOTO: 1024}


@dataclass(frozen=True, slots=True)
class Parts:
    """A sealed object taken apart; *locked* is ciphertext and tag."""

    suite: Suite
    role: Role
    digest: bytes
    locked: bytes


def header(suite: Suite, role: Role) -> bytes:
    return MAGIC + bytes((suite, role, 0, 0))


def joined(parts: Parts) -> bytes:
    return header(parts.suite, parts.role) + parts.digest + parts.locked


def parted(data: bytes) -> Parts | Failure:
    """Take a sealed object apart. Each is read in one way only, and its role bounds its size."""
    if data[:3] != MAGIC[:3]:
        return Failure.FOREIGN
    if len(data) < OVERHEAD:
        return Failure.CUT
    if data[3] != MAGIC[3] or data[4] not in set(Suite):
        return Failure.NEWER
    if data[5] not in set(Role) or data[6:HEADER] != b"\0\0":
        return Failure.DAMAGED
    role = Role(data[5])
    if len(data) > OVERHEAD + MOST[role]:
        return Failure.TOO_LARGE
    return Parts(Suite(data[4]), role, data[HEADER : HEADER + DIGEST], data[HEADER + DIGEST :])


def room(role: Role) -> int:
    """The most bytes of content that an object of this role may hold."""
    return MOST[role] - _LENGTH


def padded(content: bytes, role: Role) -> bytes:
    """Put *content* behind its length and fill up with noughts to the role's whole blocks."""
    filled = _LENGTH + len(content)
    return len(content).to_bytes(_LENGTH) + content + bytes(-filled % BLOCK[role])


def unpadded(plain: bytes, role: Role) -> bytes | Failure:
    """Give back what `padded` was given, or DAMAGED for anything that it would not have made."""
    end = _LENGTH + int.from_bytes(plain[:_LENGTH])
    content = plain[_LENGTH:end]
    return content if padded(content, role) == plain else Failure.DAMAGED


def counted(text: str) -> bytes:
    """*text* behind its length in two bytes: how a place's name enters what is authenticated."""
    data = text.encode()
    return len(data).to_bytes(2) + data
