"""The code in a couple's message: what they picked, the total they saw, and proof that their link made it.

    TRUG1-<length, 2 symbols><bytes>-BUD, capitals of Crockford's base 32 in groups of five
    bytes: id of the proposal, 4 | one number | proof, 16 | sum, 3

The number holds the revision, phone, turn, digest of the notes and total shown, then the digits of the picks.
The proof is an HMAC under the link's reply key; the sum tells damage on the way from a proof that is wrong.
`U` is no symbol, so neither mark can stand inside a code. `browser/code.js` writes the same bytes.
"""

import hashlib
import hmac
import re
from dataclasses import dataclass

from sitegen.choices.picks import Picks
from sitegen.choices.table import Table
from sitegen.reply.digits import digits, joined, parted, picks_of, radices, width
from sitegen.seal.base32 import SYMBOLS, decode, encode
from sitegen.seal.lock import mac

START, VERSION, END = "TRUG", "1", "BUD"
GROUP = 5
_ID, _PROOF, _SUM = 4, 16, 3
_MOST = 1023  # bytes: what two symbols count
_HEAD = (1 << 16, 1 << 16, 1 << 8, 1 << 32, 1 << 40)
_TOTAL = _HEAD[-1]


@dataclass(frozen=True, slots=True)
class Said:
    """What a couple's page says with a code.

    *phone* is a mark that the browser made for itself and *turn* counts its replies, so that two phones can
    be told apart and one phone's replies put in order without a clock. *notes* is the digest of all notes,
    and *total* what the page showed, in smallest units.
    """

    revision: int
    phone: int
    turn: int
    notes: int
    total: int
    picks: Picks


@dataclass(frozen=True, slots=True)
class Packed:
    """A whole code, not believed yet: of which proposal (the start of its id), its number, its proof."""

    pid: bytes
    number: bytes
    proof: bytes

    @property
    def data(self) -> bytes:
        return self.pid + self.number + self.proof

    @property
    def revision(self) -> int:
        """The revision that it says it answers."""
        return parted(int.from_bytes(self.number), _HEAD)[0][0]

    @property
    def digest(self) -> str:
        """A name for exactly this code."""
        return hashlib.sha256(self.data).hexdigest()


def write_code(key: bytes, pid: bytes, table: Table, said: Said) -> str:
    """Write the code for what was *said* of a revision with that *table*."""
    of = (*_HEAD, *radices(table))
    head = (said.revision, said.phone, said.turn, said.notes, said.total % _TOTAL)
    number = joined((*head, *digits(table, said.picks)), of).to_bytes(width(of))
    return text_of(Packed(pid[:_ID], number, _proof(key, pid, number)))


def text_of(packed: Packed) -> str:
    """Give a code as the line that stands in a message."""
    data = packed.data + _sum(packed.data)
    if len(data) > _MOST:
        raise ValueError(f"{len(data)} bytes are more than a code may hold")
    symbols = (SYMBOLS[len(data) >> 5] + SYMBOLS[len(data) & 31] + encode(data)).upper()
    groups = re.findall(f".{{1,{GROUP}}}", symbols)
    return "-".join((START + VERSION, *groups, END))


def symbols_of(symbols: str) -> int | None:
    """Say how many symbols a code has that begins with these two; None where they count nothing."""
    if len(symbols) < 2 or not all(symbol in SYMBOLS for symbol in symbols[:2]):
        return None
    length = SYMBOLS.index(symbols[0]) << 5 | SYMBOLS.index(symbols[1])
    return 2 - (-length * 8 // 5) if length > _ID + _PROOF + _SUM else None


def unpack(symbols: str) -> Packed | None:
    """Read folded symbols, as many as `symbols_of` says; None where any differs from what was written."""
    data = decode(symbols[2:])
    if data is None or symbols_of(symbols) != len(symbols):
        return None
    kept, found = data[:-_SUM], data[-_SUM:]
    if found != _sum(kept):
        return None
    return Packed(kept[:_ID], kept[_ID:-_PROOF], kept[-_PROOF:])


def is_of(packed: Packed, pid: bytes) -> bool:
    """Tell whether a code says that it belongs to that proposal."""
    return packed.pid == pid[:_ID]


def is_proven(packed: Packed, key: bytes, pid: bytes) -> bool:
    """Tell whether the link of that proposal made it. Who held the link, nobody can tell."""
    return is_of(packed, pid) and hmac.compare_digest(packed.proof, _proof(key, pid, packed.number))


def said_by(packed: Packed, table: Table) -> Said | None:
    """Read what a code says of the revision with that *table*; None where it does not fit it."""
    of = (*_HEAD, *radices(table))
    found, rest = parted(int.from_bytes(packed.number), of)
    if rest or len(packed.number) != width(of):
        return None
    revision, phone, turn, notes, total = found[: len(_HEAD)]
    return Said(revision, phone, turn, notes, total, picks_of(table, found[len(_HEAD) :]))


def shows(said: Said, total: int) -> bool:
    """Tell whether the page showed *total*; of enormous totals a code holds only the last digits."""
    return said.total == total % _TOTAL


def _proof(key: bytes, pid: bytes, number: bytes) -> bytes:
    return mac(key, b"sitegen/1/reply code" + pid + number)[:_PROOF]


def _sum(data: bytes) -> bytes:
    return hashlib.sha256(b"sitegen/1/reply sum" + len(data).to_bytes(2) + data).digest()[:_SUM]
