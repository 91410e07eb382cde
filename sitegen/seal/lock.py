"""The primitives, and what is made of them: keys from a secret, sealing, opening. The door to cryptography.

Same key and content, same bytes: the key of each object comes from a keyed digest of what it
holds (HKDF, HMAC, then AES-256-GCM under a key used once), which is computed again after opening.
That also ties the object to one key, which GCM alone does not.
"""

import hashlib
import hmac
from dataclasses import dataclass, field

from cryptography.exceptions import InvalidTag
from cryptography.hazmat.primitives.ciphers.aead import AESGCM
from cryptography.hazmat.primitives.hashes import SHA256
from cryptography.hazmat.primitives.kdf.hkdf import HKDF

from sitegen.seal.envelope import DIGEST, MOST, Parts, Role, Suite, counted, header, joined, parted
from sitegen.seal.failure import Failure

SECRET = 16
"""Bytes of a folder's id, of a link's secret and of a salt."""

# Every key seals one object, so every object may have the same nonce: a pair is never used twice.
_NONCE = bytes(12)


@dataclass(frozen=True, slots=True)
class Keys:
    """Everything that one link opens. *reply* signs a couple's answer; a link that only views has none."""

    suite: Suite
    view: bytes = field(repr=False)
    siv: bytes = field(repr=False)
    enc: bytes = field(repr=False)
    local: bytes = field(repr=False)
    reply: bytes | None = field(repr=False)


def hkdf(secret: bytes, salt: bytes, info: bytes, length: int = 32) -> bytes:
    """HKDF with SHA-256, RFC 5869."""
    return HKDF(SHA256(), length, salt, info).derive(secret)


def mac(key: bytes, message: bytes) -> bytes:
    """HMAC with SHA-256, RFC 2104."""
    return hmac.digest(key, message, "sha256")


def stretched(phrase: bytes, salt: bytes, rounds: int) -> bytes:
    """PBKDF2 with HMAC-SHA-256, RFC 8018: 32 bytes that take *rounds* to try one phrase."""
    return hashlib.pbkdf2_hmac("sha256", phrase, salt, rounds)


def lock(key: bytes, plain: bytes, beside: bytes) -> bytes:
    """AES-256-GCM under a key that seals nothing else; *beside* is authenticated, not hidden."""
    return AESGCM(key).encrypt(_NONCE, plain, beside)


def unlock(key: bytes, locked: bytes, beside: bytes) -> bytes | None:
    """Undo `lock`; None where any bit differs."""
    try:
        return AESGCM(key).decrypt(_NONCE, locked, beside)
    except InvalidTag:
        return None


def view_secret(pid: bytes, choose: bytes) -> bytes:
    """The secret of the link that only views. There is no way back from it to *choose*."""
    return hkdf(choose, pid, b"sitegen/1/view", SECRET)


def choose_keys(pid: bytes, choose: bytes, phrase_key: bytes = b"") -> Keys:
    """All keys, from the secret of the link that may choose; *phrase_key* is a stretched phrase, or empty."""
    suite = _suite(phrase_key)
    reply = hkdf(choose + phrase_key, pid, _label(suite, "reply"))
    return _keys(pid, view_secret(pid, choose), phrase_key, reply)


def view_keys(pid: bytes, view: bytes, phrase_key: bytes = b"") -> Keys:
    """The keys of the link that only views."""
    return _keys(pid, view, phrase_key, None)


def _suite(phrase_key: bytes) -> Suite:
    return Suite.PHRASE if phrase_key else Suite.LINK


def _label(suite: Suite, name: str) -> bytes:
    return f"sitegen/{suite.value}/{name}".encode()


def _keys(pid: bytes, view: bytes, phrase_key: bytes, reply: bytes | None) -> Keys:
    # Both parts have a fixed length, so that no two pairs run together into the same bytes.
    suite, secret = _suite(phrase_key), view + phrase_key
    siv, enc, local = (hkdf(secret, pid, _label(suite, name)) for name in ("siv", "enc", "local"))
    return Keys(suite, view, siv, enc, local, reply)


def seal(keys: Keys, role: Role, place: str, plain: bytes) -> bytes:
    """Seal *plain* for one *place* (`manifest`, `photo/3/640`). Same input, same bytes.

    Raises ValueError above the role's limit: whoever calls has checked it.
    """
    if len(plain) > MOST[role]:
        raise ValueError(f"{len(plain)} bytes are more than a sealed {role.name} may hold")
    digest = _digest(keys, role, place, plain)
    locked = lock(_once(keys, digest), plain, _beside(keys.suite, role, place, digest))
    return joined(Parts(keys.suite, role, digest, locked))


def open_sealed(keys: Keys, role: Role, place: str, data: bytes) -> bytes | Failure:
    """Open what `seal` made with the same keys, role and place; anything else is a failure."""
    parts = parted(data)
    if isinstance(parts, Failure):
        return parts
    # What is expected here, not what the object says of itself, is what must have been authenticated.
    beside = _beside(keys.suite, role, place, parts.digest)
    plain = unlock(_once(keys, parts.digest), parts.locked, beside)
    if plain is None or not hmac.compare_digest(_digest(keys, role, place, plain), parts.digest):
        return Failure.DAMAGED
    return plain


def _digest(keys: Keys, role: Role, place: str, plain: bytes) -> bytes:
    return mac(keys.siv, header(keys.suite, role) + counted(place) + plain)[:DIGEST]


def _once(keys: Keys, digest: bytes) -> bytes:
    return hkdf(keys.enc, digest, _label(keys.suite, "file"))


def _beside(suite: Suite, role: Role, place: str, digest: bytes) -> bytes:
    return header(suite, role) + digest + counted(place)
