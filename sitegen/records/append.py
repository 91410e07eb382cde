"""Adds one record: written beside, flushed to the disk, put in place without ever replacing a file.

Whenever a run is killed, the record is whole, or it is not there.
"""

import datetime as dt
import os
from pathlib import Path

from filelock import FileLock, Timeout

from sitegen.records.journal import Journal, Record, listed, number_of, record_bytes, sealed
from sitegen.values import atomic
from sitegen.values.problem import has_errors

_SECONDS = 20
_LOCK = ".lock"


class Overtaken(Exception):
    """Another run has added a record since the journal was read: what was decided on may no longer hold."""


def append(journal: Journal, kind: str, at: dt.date, body: object) -> Journal:
    """Add a record after the last one and give the journal that has it.

    *at* is a day, or a moment where a time of day is known; it is said, never looked up here. Raises
    `Overtaken` where *journal* is no longer all that stands there, and OSError where the disk refuses; in
    both cases nothing was added.
    """
    if has_errors(journal.problems):
        raise ValueError("a journal with errors cannot be added to")
    if kind not in journal.kinds:
        raise ValueError(f"no kind of record is called {kind!r}")
    last = journal.last
    number, previous = (last.number + 1, last.digest) if last else (1, "")
    record = sealed(number, kind, at, previous, body)
    _make_folder(journal.folder)
    try:
        with FileLock(journal.folder / _LOCK, timeout=_SECONDS):
            _clear(journal.folder)
            _write(journal, record)
    except Timeout:
        raise Overtaken(f"another run has been writing to {journal.shown} for {_SECONDS} seconds") from None
    return journal.after(record)


def _write(journal: Journal, record: Record) -> None:
    there = [name for name in listed(journal.folder) if number_of(name)]
    if there != [known.name for known in journal.records]:
        raise Overtaken(f"another run has written to {journal.shown}")
    beside = journal.folder / f".{record.name}.part"
    try:
        atomic.write(beside, record_bytes(record), fresh=True)
        _place(beside, journal.folder / record.name)
    finally:
        beside.unlink(missing_ok=True)
    atomic.flush_folder(journal.folder)


def _place(beside: Path, target: Path) -> None:
    """Give the file its name; an existing one is never replaced."""
    try:
        os.link(beside, target)
    except FileExistsError:
        raise Overtaken(f"another run has written {target.name}") from None
    except OSError:
        # A disk without a second name for one file. The lock is held and the name was free a moment ago.
        beside.rename(target)


def _make_folder(folder: Path) -> None:
    if not folder.is_dir():
        folder.mkdir(exist_ok=True)
        atomic.flush_folder(folder.parent)


def _clear(folder: Path) -> None:
    """Take away what a killed run left beside."""
    for left_over in folder.glob(".*.part"):
        left_over.unlink(missing_ok=True)
