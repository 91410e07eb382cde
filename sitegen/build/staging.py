"""Writes a folder beside the old one, then swaps the two.

Whenever a run is killed, the old folder is whole, or the new one is, and the
next run mends a swap that was cut in two.
"""

import os
import shutil
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

# A folder of files named by their content: equal names are equal bytes, and old ones do no harm.
PICTURES = "pictures"


@dataclass(frozen=True, slots=True)
class Staging:
    """A folder `name` in `out` that is being written beside the one that is there."""

    out: Path
    name: str

    @property
    def live(self) -> Path:
        return self.out / self.name

    @property
    def beside(self) -> Path:
        return self.out / f".{self.name}-new"

    @property
    def before(self) -> Path:
        return self.out / f".{self.name}-old"


def begin(out: Path, name: str) -> Staging:
    """Mend a swap that was cut in two, and make room beside. Raises OSError where the disk refuses."""
    staging = Staging(out, name)
    mend(out, name)
    for left_over in (staging.before, staging.beside):
        _remove(left_over)
    return staging


def mend(out: Path, name: str) -> None:
    """Put the old folder back where a swap was cut between its two renames."""
    staging = Staging(out, name)
    if staging.before.exists() and not staging.live.exists():
        staging.before.rename(staging.live)


def put(staging: Staging, name: str, content: bytes) -> None:
    """Write one file; *name* is a path within the folder."""
    _room(staging, name).write_bytes(content)


def keep(staging: Staging, name: str) -> None:
    """Take one file over from the live folder, unchanged and without copying where the disk can link."""
    take(staging, name, staging.live / name)


def take(staging: Staging, name: str, source: Path) -> None:
    """Take a file over from *source*: linked where the disk can, else copied."""
    path = _room(staging, name)
    try:
        os.link(source, path)
    except OSError:
        shutil.copy2(source, path)


def _room(staging: Staging, name: str) -> Path:
    path = staging.beside / name
    if not path.parent.is_dir():
        path.parent.mkdir(parents=True)
    return path


def swap(staging: Staging) -> None:
    """Put the new folder in place of the old one."""
    staging.beside.mkdir(parents=True, exist_ok=True)
    if staging.live.exists():
        staging.live.rename(staging.before)
    staging.beside.rename(staging.live)
    _remove(staging.before)


def exchange(staging: Staging, gone: Iterable[str]) -> None:
    """Put what lies beside in place, entry by entry, and leave all else of the live folder as it is.

    *gone* are entries to take away. Each entry is the old one or the new one
    whole; the folder as a whole is only so where the run is not cut. A preview
    of hundreds of events is swapped so, because making and removing hundreds
    of folders takes longer than a florist waits after a save.
    """
    staging.before.mkdir(parents=True, exist_ok=True)
    for name in gone:
        if (staging.live / name).exists():
            (staging.live / name).rename(staging.before / name)
    for new in sorted(staging.beside.iterdir()):
        live = staging.live / new.name
        if new.is_file():
            new.replace(live)
        elif new.name == PICTURES and live.is_dir():
            for picture in sorted(new.iterdir()):
                picture.replace(live / picture.name)
        else:
            if live.exists():
                live.rename(staging.before / new.name)
            new.rename(live)
    _remove(staging.before)


def discard(staging: Staging) -> None:
    """Leave nothing of what was begun."""
    _remove(staging.beside)


def leave_no_empty(folder: Path) -> None:
    """Take away a folder in which nothing was left, as by a first build that failed."""
    if folder.is_dir() and not any(folder.iterdir()):
        folder.rmdir()


def _remove(folder: Path) -> None:
    if folder.is_symlink() or folder.is_file():
        folder.unlink()
    elif folder.exists():
        shutil.rmtree(folder)
