"""The phrase that goes another way than the link: words that are easy to say, type and read back.

`words.txt` is our own list of plain English words of three to seven letters: none begins another,
none sounds like another that is spelled differently. Each word of a generated phrase is worth
log2 of their number, 11.7 bits: four words make 46 bits and six 70, on top of 600,000 rounds a guess.
"""

import re
import unicodedata
from functools import lru_cache
from math import log2
from pathlib import Path

from sitegen.seal.cover import Stretch
from sitegen.seal.failure import Failure
from sitegen.seal.lock import stretched

FOR_A_COUPLE = 4
FOR_A_BACKUP = 6

_NOTHING = re.compile("[\u00ad\u200b-\u200f\u2060\ufeff]")
_BLANK = re.compile("[\x00-\x20\x7f-\xa0\u1680\u2000-\u200a\u2028\u2029\u202f\u205f\u3000]+")


@lru_cache(maxsize=1)
def words() -> tuple[str, ...]:
    """All words of the list, in alphabetical order."""
    return tuple(Path(__file__).with_name("words.txt").read_text("ascii").split())


def bits(count: int) -> int:
    """The whole bits of chance in a phrase of *count* words."""
    return int(count * log2(len(words())))


def normal(phrase: str) -> str:
    r"""Write a phrase in the one way that counts: NFKC, single spaces, small letters.

    >>> normal("  Amber\u00a0 CANOE ")
    'amber canoe'
    """
    plain = unicodedata.normalize("NFKC", _NOTHING.sub("", phrase))
    return _BLANK.sub(" ", plain).strip(" ").lower()


def phrase_key(phrase: str, stretch: Stretch) -> bytes | Failure:
    """Stretch a phrase as it was typed; WEAK where *stretch* asks for rounds that are not allowed."""
    if not stretch.allowed:
        return Failure.WEAK
    return stretched(normal(phrase).encode("utf-8", "replace"), stretch.salt, stretch.rounds)
