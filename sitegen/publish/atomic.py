"""One file in another's place on this computer: cut off at any time, the old or the new one is there."""

import os
from pathlib import Path


def put(path: Path, data: bytes) -> None:
    """Write *data* beside *path*, see it on the disk, and rename. Raises OSError."""
    beside = path.with_name(f".{path.name}.part")
    write(beside, data)
    rename(beside, path)
    flush_folder(path.parent)


def write(path: Path, data: bytes) -> None:
    """Write a file down to the disk."""
    with path.open("wb") as file:
        file.write(data)
        file.flush()
        os.fsync(file.fileno())


def rename(path: Path, target: Path) -> None:
    path.replace(target)


def flush_folder(folder: Path) -> None:
    """Make renames in *folder* outlast a power cut, where the system lets a folder be flushed."""
    if os.name != "posix":
        return
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)
