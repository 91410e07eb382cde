"""Keys of what a page is made from: whenever anything that could reach it changes, its key does."""

import os
from collections.abc import Iterable
from hashlib import blake2b
from pathlib import Path

from sitegen.build.settings import Settings
from sitegen.load.tree import EventFiles, Tree

PACKAGE = Path(__file__).parent.parent


def theme_folders(settings: Settings) -> tuple[Path, ...]:
    """Where themes may lie: the studio's own beside its content, and those that come with the program."""
    return (settings.content.parent / "themes", PACKAGE / "shipped" / "themes", PACKAGE.parent / "themes")


def base_key(settings: Settings, tree: Tree) -> bytes:
    """A key of all that every event is made from: the shared files, the themes, the program, the day."""
    state = blake2b(tree.digest(), digest_size=16)
    state.update(stamp((PACKAGE, *theme_folders(settings))))
    state.update(f"{settings.today} {settings.shown} {settings.quick} {settings.applied}".encode())
    return state.digest()


def event_key(base: bytes, files: EventFiles, *, one_file: bool) -> str:
    return blake2b(base + files.digest() + bytes([one_file]), digest_size=16).hexdigest()


def secret_stamp(settings: Settings, event: str) -> str:
    """What tells whether an event's key file changed; empty where there is none. Its content is not read."""
    try:
        found = (settings.home / "keys" / f"{event}.json").stat()
    except OSError:
        return ""
    return f"{found.st_size} {found.st_mtime_ns}"


def desk_key(settings: Settings, base: bytes, keys: Iterable[str]) -> str:
    """A key of the list of events; it also says what is backed up and what is online."""
    kept = stamp((settings.home / "keys", settings.home / "receipts"))
    return blake2b(base + kept + "\0".join(keys).encode(), digest_size=16).hexdigest()


def stamp(folders: Iterable[Path]) -> bytes:
    """A hash of names, sizes and times of all files in *folders*; what they hold is not read."""
    state = blake2b(digest_size=16)
    for folder in folders:
        for path, _, names in sorted(os.walk(folder)):
            if "__pycache__" in path:
                continue
            for name in sorted(names):
                # Thousands of files, several times a second in a preview.
                place = os.path.join(path, name)  # noqa: PTH118 - a Path for each takes too long
                found = os.stat(place, follow_symlinks=False)  # noqa: PTH116 - likewise
                state.update(f"{path}/{name} {found.st_size} {found.st_mtime_ns}\n".encode())
    return state.digest()
