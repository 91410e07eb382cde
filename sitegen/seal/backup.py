"""All keys in one file that may lie anywhere, opened by six generated words; and taking them in again.

"SGK1" | 0 0 0 0 | salt (16) | rounds (4) | AES-256-GCM ciphertext and tag | SHA-256 of all before (4)
"""

import json
from collections.abc import Collection, Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from itertools import chain, count
from pathlib import Path

from sitegen.seal.cover import Stretch, summed, unsummed
from sitegen.seal.envelope import Role, padded, unpadded
from sitegen.seal.failure import Failure
from sitegen.seal.keys import Secrets
from sitegen.seal.lock import SECRET, hkdf, lock, unlock
from sitegen.seal.phrase import normal, phrase_key
from sitegen.seal.plain import from_plain, to_plain
from sitegen.seal.store import KeyFault, KeyTrouble, Store, add, exchange, find, is_event, written

_HEADER = b"SGK1\0\0\0\0"
_START = len(_HEADER) + SECRET + 4


def packed(keys: Mapping[str, Secrets], phrase: str, stretch: Stretch) -> bytes:
    """Seal *keys* by event. *stretch* must be fresh: one key seals one backup."""
    text = json.dumps({event: to_plain(own) for event, own in keys.items()}, sort_keys=True)
    key = phrase_key(phrase, stretch)
    if isinstance(key, Failure):
        raise TypeError("a stretch of our own is always allowed")
    start = _HEADER + stretch.salt + stretch.rounds.to_bytes(4)
    return summed(start + lock(_backup_key(key, stretch), padded(text.encode(), Role.MANIFEST), start))


def unpacked(data: bytes, phrase: str) -> dict[str, Secrets] | Failure:
    """Read a backup, or say why it does not open."""
    if data[:3] != _HEADER[:3]:
        return Failure.FOREIGN
    body = unsummed(data)
    if body is None or len(body) < _START:
        return Failure.DAMAGED
    start, locked = body[:_START], body[_START:]
    if not start.startswith(_HEADER):
        return Failure.NEWER
    stretch = Stretch(start[8:24], int.from_bytes(start[24:]))
    key = phrase_key(phrase, stretch)
    if not normal(phrase) or isinstance(key, Failure):
        return key if isinstance(key, Failure) else Failure.NO_PHRASE
    plain = unlock(_backup_key(key, stretch), locked, start)
    return Failure.WRONG_PHRASE if plain is None else _keys(unpadded(plain, Role.MANIFEST))


def _backup_key(key: bytes, stretch: Stretch) -> bytes:
    return hkdf(key, stretch.salt, b"sitegen/1/backup")


def _keys(text: bytes | Failure) -> dict[str, Secrets] | Failure:
    if isinstance(text, Failure):
        return text
    found = {event: from_plain(data) for event, data in json.loads(text).items() if is_event(event)}
    keys = {event: own for event, own in found.items() if own is not None}
    return keys if len(keys) == len(found) else Failure.NEWER


class Verdict(StrEnum):
    """How a key of a backup stands to the store's own."""

    NEW = "new"
    SAME = "same"
    LATER = "later"
    """The backup's was renewed after the store's."""
    EARLIER = "earlier"
    """The store's was renewed after the backup's: taking it would bring an old link back."""
    OTHER = "other"
    """Neither comes from the other."""
    MENDS = "mends"
    """The store's file cannot be read."""


TAKEN = frozenset({Verdict.NEW, Verdict.LATER, Verdict.MENDS})
"""What is taken in without being asked for by name."""


@dataclass(frozen=True, slots=True)
class Arrival:
    """One event's key from a backup."""

    event: str
    verdict: Verdict
    own: Secrets = field(repr=False)


def arrivals(store: Store, keys: Mapping[str, Secrets]) -> tuple[Arrival, ...]:
    """Compare a backup with the store, writing nothing."""
    return tuple(
        Arrival(event, _verdict(find(store, event), keys[event]), keys[event]) for event in sorted(keys)
    )


def _verdict(here: Secrets | KeyFault, there: Secrets) -> Verdict:
    if isinstance(here, KeyFault):
        return Verdict.NEW if here.trouble is KeyTrouble.MISSING else Verdict.MENDS
    if here == there:
        return Verdict.SAME
    if here.pid in there.former:
        return Verdict.LATER
    return Verdict.EARLIER if there.pid in here.former else Verdict.OTHER


def take_in(store: Store, found: Collection[Arrival], also: Collection[str] = ()) -> tuple[KeyFault, ...]:
    """Write what `TAKEN` holds, and the events named in *also*; what was there is kept.

    Its name ends in `.before`, or `.before-2` and so on.

    Returns what could not be written. Raises OSError where the disk refuses.
    """
    wanted = [one for one in found if one.verdict in TAKEN or one.event in also]
    faults = (_take(store, one) for one in wanted if one.verdict is not Verdict.SAME)
    return tuple(fault for fault in faults if fault is not None)


def _free(path: Path) -> Path:
    """Give a name for what was there, that no key from before is kept under."""
    numbers = chain([""], (f"-{i}" for i in count(2)))
    names = (path.with_name(f"{path.name}.before{number}") for number in numbers)
    return next(name for name in names if not name.exists())


def _take(store: Store, one: Arrival) -> KeyFault | None:
    here = find(store, one.event)
    path = store.path(one.event)
    if _verdict(here, one.own) is not one.verdict:
        return KeyFault(KeyTrouble.CHANGED, one.event, path)
    if one.verdict is Verdict.NEW:
        return add(store, one.event, one.own)
    kept = _free(path)
    if isinstance(here, KeyFault):
        path.replace(kept)
        return add(store, one.event, one.own)
    with written(store, kept.name, to_plain(here)) as beside:
        beside.replace(kept)
    return exchange(store, one.event, here, one.own)
