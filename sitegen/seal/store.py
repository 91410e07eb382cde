"""The key store: one file for each event, for its owner's eyes alone.

A lost key is a lost link, so nothing here is ever overwritten unseen: a file is added where there
is none, or exchanged for another by whoever has read it before.
"""

import json
import os
import stat
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from enum import StrEnum
from pathlib import Path
from typing import Any

from sitegen.seal.keys import Secrets, new_secrets
from sitegen.seal.plain import from_plain, is_newer, to_plain
from sitegen.values import atomic

_ENDING = ".json"


@dataclass(frozen=True, slots=True)
class Store:
    """The folder `keys` within `.sitegen`."""

    folder: Path

    def path(self, event: str) -> Path:
        if not is_event(event):
            raise ValueError("an event's id is the name of a folder")
        return self.folder / f"{event}{_ENDING}"


def is_event(name: str) -> bool:
    """Whether *name* can be an event's: the name of a folder, and no way out of ours."""
    return bool(name) and not name.startswith(".") and not set(name) & {"/", "\\", "\0"}


class KeyTrouble(StrEnum):
    MISSING = "missing"
    """No key: none was ever made, or the store was lost. Who knows of a published site must ask first."""
    DAMAGED = "damaged"
    """The file is not as it was written."""
    NEWER = "newer"
    """A later version wrote it."""
    UNREADABLE = "unreadable"
    """The system does not let us read it."""
    CHANGED = "changed"
    """Somebody else has written it meanwhile."""


@dataclass(frozen=True, slots=True)
class KeyFault:
    """Why an event's key cannot be used or written; *path* is its file."""

    trouble: KeyTrouble
    event: str
    path: Path


def find(store: Store, event: str) -> Secrets | KeyFault:
    """Read an event's key."""
    path = store.path(event)
    try:
        data = json.loads(path.read_bytes())
    except FileNotFoundError:
        return KeyFault(KeyTrouble.MISSING, event, path)
    except OSError:
        return KeyFault(KeyTrouble.UNREADABLE, event, path)
    except (ValueError, RecursionError):
        return KeyFault(KeyTrouble.DAMAGED, event, path)
    trouble = KeyTrouble.NEWER if is_newer(data) else KeyTrouble.DAMAGED
    return from_plain(data) or KeyFault(trouble, event, path)


def find_or_make(store: Store, event: str) -> Secrets | KeyFault:
    """Read an event's key, or make one where there is none. Raises OSError where the disk refuses.

    Only for an event that was never published: to one that was, a new key is a new link.
    """
    found = find(store, event)
    if isinstance(found, Secrets) or found.trouble is not KeyTrouble.MISSING:
        return found
    own = new_secrets()
    return add(store, event, own) or own


def add(store: Store, event: str, own: Secrets) -> KeyFault | None:
    """Write the first key of an event; CHANGED where a file is there.

    Raises OSError where the disk refuses.
    """
    path = store.path(event)
    with written(store, path.name, to_plain(own)) as beside:
        if not _linked(beside, path):
            return KeyFault(KeyTrouble.CHANGED, event, path)
    return None


def _linked(beside: Path, path: Path) -> bool:
    """Give a whole file a name that nobody has; a link, unlike a rename, fails where there is a file."""
    try:
        os.link(beside, path)
    except FileExistsError:
        return False
    except OSError:
        # Some disks know no links. Then the build's own lock has to do.
        if path.exists():
            return False
        beside.replace(path)
    return True


def exchange(store: Store, event: str, before: Secrets, own: Secrets) -> KeyFault | None:
    """Put *own* in the place of *before*; a fault where that is not what is there.

    Raises OSError where the disk refuses; the file then holds the one or the other, whole.
    """
    found = find(store, event)
    if found != before:
        changed = KeyFault(KeyTrouble.CHANGED, event, store.path(event))
        return found if isinstance(found, KeyFault) else changed
    path = store.path(event)
    with written(store, path.name, to_plain(own)) as beside:
        beside.replace(path)
    return None


def events(store: Store) -> tuple[str, ...]:
    """Every event that has a key file, whatever is in it, in order."""
    names = (path.name for path in store.folder.glob(f"*{_ENDING}"))
    return tuple(sorted(name.removesuffix(_ENDING) for name in names if not name.startswith(".")))


def open_to_others(store: Store) -> tuple[Path, ...]:
    """The store's folder and files that others on this machine may read or change."""
    paths = [store.folder, *(store.path(event) for event in events(store))]
    return tuple(path for path in paths if path.exists() and stat.S_IMODE(path.stat().st_mode) & 0o077)


@contextmanager
def written(store: Store, name: str, data: Any) -> Iterator[Path]:
    """Write a file beside *name*, flushed to the disk, for the caller to put in its place."""
    store.folder.mkdir(mode=0o700, parents=True, exist_ok=True)
    beside = store.folder / f".{name}.{os.getpid()}.part"
    try:
        beside.unlink(missing_ok=True)
        handle = os.open(beside, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
        with open(handle, "w", encoding="utf-8") as stream:  # noqa: PTH123 - a Path cannot set the mode
            stream.write(json.dumps(data, ensure_ascii=False, indent=1) + "\n")
            stream.flush()
            os.fsync(stream.fileno())
        yield beside
        atomic.flush_folder(store.folder)
    finally:
        beside.unlink(missing_ok=True)
