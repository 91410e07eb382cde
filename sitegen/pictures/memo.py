"""Remember photos' heads between builds, so that an unchanged build reads none of them.

An entry holds only while size, times and inode of the file are the same. A memo that is lost, damaged or
of another version is only slower.
"""

import json
from dataclasses import astuple, dataclass, field
from pathlib import Path

from sitegen.pictures.head import PhotoFault, PhotoHead, Stamp, head, stamp_of
from sitegen.pictures.store import Store, put

_NAME = "heads.json"
_VERSION = 2


@dataclass(slots=True)
class Memo:
    """Heads by path. With no store it remembers for one run only."""

    store: Store | None = None
    heads: dict[str, PhotoHead] = field(default_factory=dict)
    changed: bool = False


def open_memo(store: Store) -> Memo:
    try:
        written = json.loads(store.path(_NAME).read_bytes())
        heads = {path: _entry(parts) for path, parts in written[str(_VERSION)].items()}
    except (OSError, ValueError, TypeError, KeyError, AttributeError):
        heads = {}
    return Memo(store, heads)


def remembered_head(memo: Memo, path: Path) -> PhotoHead | PhotoFault:
    """Return what `head` returns. Faults are not remembered."""
    known = memo.heads.get(str(path))
    if known and known.stamp == _stamp(path):
        return known
    found = head(path)
    # A photo that was written to while it was read is not remembered.
    if isinstance(found, PhotoHead) and found.stamp == _stamp(path):
        memo.heads[str(path)] = found
        memo.changed = True
    return found


def save_memo(memo: Memo) -> None:
    """Write the memo if it learned anything; photos that are gone are forgotten. Raises OSError."""
    if not (memo.store and memo.changed):
        return
    heads = {path: astuple(found) for path, found in memo.heads.items() if Path(path).exists()}
    put(memo.store, _NAME, json.dumps({str(_VERSION): heads}, sort_keys=True).encode())
    memo.changed = False


def _stamp(path: Path) -> Stamp | None:
    try:
        return stamp_of(path.stat())
    except (OSError, ValueError):
        return None


def _entry(parts: list[object]) -> PhotoHead:
    match parts:
        case [
            str(kind),
            int(width),
            int(height),
            str(mark),
            [int(size), int(written), int(changed), int(inode)],
        ]:
            return PhotoHead(kind, width, height, mark, (size, written, changed, inode))
        case _:
            raise ValueError("not an entry of this version")
