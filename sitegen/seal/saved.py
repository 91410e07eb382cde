"""When the keys were last written to a backup, and which of them are in none."""

import datetime as dt
import json
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from sitegen.seal.backup import packed
from sitegen.seal.keys import Secrets, new_phrase, new_stretch
from sitegen.seal.phrase import FOR_A_BACKUP
from sitegen.seal.plain import mark
from sitegen.seal.store import KeyFault, Store, events, find, written

_NAME = ".backed-up.json"


@dataclass(frozen=True, slots=True)
class LastBackup:
    """The day of the last backup, and a mark of every key that is in it."""

    on: dt.date
    marks: Mapping[str, str]


@dataclass(frozen=True, slots=True)
class Backup:
    """A backup to be written; *phrase* is shown once and kept nowhere."""

    data: bytes
    phrase: str
    keys: Mapping[str, Secrets]
    faults: tuple[KeyFault, ...]

    def __repr__(self) -> str:
        return f"Backup of {len(self.keys)}"


def back_up(store: Store) -> Backup:
    """Seal every key that can be read, with a new phrase; *faults* are those that cannot."""
    found = {event: find(store, event) for event in events(store)}
    keys = {event: own for event, own in found.items() if isinstance(own, Secrets)}
    faults = tuple(fault for fault in found.values() if isinstance(fault, KeyFault))
    phrase = new_phrase(FOR_A_BACKUP)
    return Backup(packed(keys, phrase, new_stretch()), phrase, keys, faults)


def note_backup(store: Store, backup: Backup, on: dt.date) -> None:
    """Remember a backup once its file is written. Raises OSError where the disk refuses."""
    data = {"on": on.isoformat(), "marks": {event: mark(own) for event, own in backup.keys.items()}}
    with written(store, _NAME, data) as beside:
        beside.replace(_path(store))


def last_backup(store: Store) -> LastBackup | None:
    """The last backup; None where there was none, or nothing is known of it."""
    try:
        data = json.loads(_path(store).read_bytes())
        return LastBackup(dt.date.fromisoformat(data["on"]), dict(data["marks"]))
    except (OSError, ValueError, KeyError, TypeError):
        return None


def not_backed_up(store: Store) -> tuple[str, ...]:
    """The events whose key, as it is now, is in no backup that we know of."""
    last = last_backup(store)
    if last is None:
        return events(store)
    found = ((event, find(store, event)) for event in events(store))
    return tuple(
        event for event, own in found if isinstance(own, Secrets) and last.marks.get(event) != mark(own)
    )


def _path(store: Store) -> Path:
    return store.folder / _NAME
