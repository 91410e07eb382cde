"""The notes of a couple: how they stand in a message, and the digest by which the code knows them.

A note stands as `[3: its text :3]`, the number being the piece's place in the proposal. The digest is made of
letters and digits alone: quoting, wrapping and smart punctuation leave it as it is.
"""

import hashlib
import re
import unicodedata
from collections.abc import Mapping

LONGEST = 500
_WINDOW = 20 * LONGEST  # how far on the end of a note is looked for, escapes and all
_BEGIN = re.compile(r"\[([1-9][0-9]{0,3}): ")
_QUOTED = re.compile(r"^[ \t]*(?:[>|][ \t]*)+", re.MULTILINE)
_HIDDEN = re.compile("[\u00ad\u200b-\u200f\u202a-\u202e\u2060-\u2069\ufeff]")


def notes_digest(notes: Mapping[int, str]) -> int:
    """Give 32 bits for notes by the number of their piece; 0 where there are none."""
    said = [f"{number} {_letters(notes[number])}\n" for number in sorted(notes)]
    if not said:
        return 0
    return int.from_bytes(hashlib.sha256(("sitegen/1/reply notes\n" + "".join(said)).encode()).digest()[:4])


def _letters(text: str) -> str:
    shown = unicodedata.normalize("NFKC", text)
    return "".join(char for char in shown if unicodedata.category(char)[0] in "LMN")


def notes_in(text: str) -> dict[int, str]:
    """Find the notes in a message, as people read them: in one line, bounded, nothing hidden in it."""
    plain = " ".join(_QUOTED.sub("", _HIDDEN.sub("", text)).split())
    notes = {}
    for begin in _BEGIN.finditer(plain):
        start = begin.end()
        end = plain.find(f" :{begin[1]}]", start - 1, start + _WINDOW)
        if end >= 0:
            notes[int(begin[1])] = shown(plain[start:end])
    return notes


def shown(text: str, longest: int = LONGEST) -> str:
    """Give foreign text as one line that moves no cursor, turns no direction and has an end."""
    plain = " ".join(_HIDDEN.sub("", text).split())
    safe = "".join(char if char.isprintable() else "\ufffd" for char in plain)
    return safe if len(safe) <= longest else f"{safe[: longest - 1]}…"
