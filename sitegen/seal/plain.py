"""Secrets as plain data and back, for the key files and the backup: with a sum that finds damage."""

import hashlib
import json
from dataclasses import replace
from typing import Any

from sitegen.seal.base32 import decode, encode
from sitegen.seal.cover import Stretch
from sitegen.seal.keys import Phrase, Secrets
from sitegen.seal.lock import SECRET

FORMAT = 1
_KEY = 32


def to_plain(own: Secrets) -> dict[str, Any]:
    data: dict[str, Any] = {
        "format": FORMAT,
        "pid": encode(own.pid),
        "choose": encode(own.choose),
        "former": [encode(pid) for pid in own.former],
        "phrase": _from_phrase(own.phrase) if own.phrase else None,
    }
    data |= {"fresh": own.fresh} if own.fresh else {}
    return {**data, "sum": _sum(data)}


def from_plain(data: Any) -> Secrets | None:
    """Read what `to_plain` wrote; None for anything else."""
    if not isinstance(data, dict) or data.get("sum") != _sum({k: v for k, v in data.items() if k != "sum"}):
        return None
    if data.get("format") != FORMAT:
        return None
    try:
        former = tuple(_bytes(pid, SECRET) for pid in data["former"])
        phrase = data["phrase"] and _to_phrase(data["phrase"])
        pid, choose = _bytes(data["pid"], SECRET), _bytes(data["choose"], SECRET)
        return Secrets(pid, choose, former, phrase, str(data.get("fresh", "")))
    except (KeyError, TypeError, ValueError):
        return None


def is_newer(data: Any) -> bool:
    """Whether a later version wrote this."""
    return isinstance(data, dict) and isinstance(data.get("format"), int) and data["format"] > FORMAT


def mark(own: Secrets) -> str:
    """A name for exactly these secrets, from which none of them can be told."""
    return str(to_plain(replace(own, fresh=""))["sum"])


def _from_phrase(phrase: Phrase) -> dict[str, Any]:
    stretch = phrase.stretch
    return {
        "words": phrase.words,
        "salt": encode(stretch.salt),
        "rounds": stretch.rounds,
        "key": encode(phrase.key),
    }


def _to_phrase(data: dict[str, Any]) -> Phrase:
    stretch = Stretch(_bytes(data["salt"], SECRET), int(data["rounds"]))
    return Phrase(str(data["words"]), stretch, _bytes(data["key"], _KEY))


def _bytes(text: str, length: int) -> bytes:
    data = decode(text)
    if data is None or len(data) != length:
        raise ValueError("no secret of that length")
    return data


def _sum(data: dict[str, Any]) -> str:
    text = json.dumps(data, sort_keys=True, separators=(",", ":"))
    return encode(hashlib.sha256(b"sitegen/1/key file" + text.encode()).digest()[:16])
