"""Remember photos' heads between builds, so that an unchanged build reads none of them.

An entry holds only while size, times and inode of the file are the same. A memo that is lost, damaged or
of another version is only slower.
"""

import json
from dataclasses import astuple, dataclass, field
from pathlib import Path

from sitegen.pictures.head import PhotoFault, PhotoHead, head
from sitegen.pictures.store import Store, put

_NAME = "heads.json"
_VERSION = 1

_Stamp = tuple[int, int, int, int]


@dataclass(slots=True)
class Memo:
    """Heads by path. With no store it remembers for one run only."""

    store: Store | None = None
    heads: dict[str, tuple[_Stamp, PhotoHead]] = field(default_factory=dict)
    changed: bool = False


def open_memo(store: Store) -> Memo:
    try:
        written = json.loads(store.path(_NAME).read_bytes())
        heads = {path: _entry(stamp, parts) for path, (stamp, parts) in written[str(_VERSION)].items()}
    except (OSError, ValueError, TypeError, KeyError, AttributeError):
        heads = {}
    return Memo(store, heads)


def remembered_head(memo: Memo, path: Path) -> PhotoHead | PhotoFault:
    """Return what `head` returns. Faults are not remembered."""
    stamp = _stamp(path)
    known = memo.heads.get(str(path))
    if known and known[0] == stamp:
        return known[1]
    found = head(path)
    # Stamped before and after: a photo that is being written while it is read is not remembered.
    if isinstance(found, PhotoHead) and stamp and stamp == _stamp(path):
        memo.heads[str(path)] = (stamp, found)
        memo.changed = True
    return found


def save_memo(memo: Memo) -> None:
    """Write the memo if it learned anything; photos that are gone are forgotten. Raises OSError."""
    if not (memo.store and memo.changed):
        return
    there = {path: entry for path, entry in memo.heads.items() if Path(path).exists()}
    heads = {path: (stamp, astuple(kept)) for path, (stamp, kept) in there.items()}
    put(memo.store, _NAME, json.dumps({str(_VERSION): heads}, sort_keys=True).encode())
    memo.changed = False


def _stamp(path: Path) -> _Stamp | None:
    try:
        state = path.stat()
    except (OSError, ValueError):
        return None
    # The time of the last change of status catches programs that set the time of writing back.
    return state.st_size, state.st_mtime_ns, state.st_ctime_ns, state.st_ino


def _entry(stamp: list[int], parts: list[str | int]) -> tuple[_Stamp, PhotoHead]:
    size, written, changed, inode = map(int, stamp)
    kind, width, height, mark = parts
    return (size, written, changed, inode), PhotoHead(str(kind), int(width), int(height), str(mark))
