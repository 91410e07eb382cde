"""The cache folder. A file under a rendition's name is whole and final; anything else there is left-over."""

import os
import re
from collections.abc import Collection, Iterable
from dataclasses import dataclass
from pathlib import Path

from sitegen.pictures.plan import Rendition

_MADE = re.compile(r"[0-9a-f]{24}-\d+\.(webp|jpeg)")
_PART = re.compile(r".+\.\d+\.part")


@dataclass(frozen=True, slots=True)
class Store:
    folder: Path

    def path(self, name: str) -> Path:
        return self.folder / name


def missing(store: Store, renditions: Iterable[Rendition]) -> tuple[Rendition, ...]:
    return tuple(one for one in renditions if not store.path(one.name).is_file())


def put(store: Store, name: str, content: bytes) -> None:
    """Write a file so that, whenever the run is killed, the name holds all of it or does not exist.

    Raises OSError where the disk refuses.
    """
    store.folder.mkdir(parents=True, exist_ok=True)
    beside = store.path(f"{name}.{os.getpid()}.part")
    try:
        with beside.open("wb") as stream:
            stream.write(content)
            stream.flush()
            # Without this a power cut can leave the new name on an empty file, taken for whole for ever.
            os.fsync(stream.fileno())
        beside.replace(store.path(name))
    except OSError:
        beside.unlink(missing_ok=True)
        raise


def prune(store: Store, keep: Collection[str]) -> int:
    """Remove the renditions that are not in *keep* and what killed runs left; return how many files went.

    Only files with names of our own making are touched. No other run may be making pictures meanwhile.
    """
    gone = 0
    for path in sorted(store.folder.glob("*")):
        ours = _MADE.fullmatch(path.name) or _PART.fullmatch(path.name)
        if ours and path.name not in keep:
            path.unlink(missing_ok=True)
            gone += 1
    return gone
