"""Files that last: cut off at any time, the old one or the new one is there, whole."""

import os
from pathlib import Path


def put(path: Path, data: bytes) -> None:
    """Write *data* beside *path*, see it on the disk, and rename. Raises OSError."""
    beside = path.with_name(f".{path.name}.part")
    write(beside, data)
    rename(beside, path)
    flush_folder(path.parent)


def write(path: Path, data: bytes, *, fresh: bool = False) -> None:
    """Write a file down to the disk; with *fresh* only where there is none. Raises OSError."""
    with path.open("xb" if fresh else "wb") as file:
        file.write(data)
        file.flush()
        os.fsync(file.fileno())


def rename(path: Path, target: Path) -> None:
    path.replace(target)


def flush_folder(folder: Path) -> None:
    """Make names in *folder* outlast a power cut, where the system lets a folder be flushed."""
    if os.name != "posix":
        return
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)
