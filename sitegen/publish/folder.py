"""A folder on this computer as a host: to try out, or one that another tool carries to the web."""

import shutil
import stat
import subprocess
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from sitegen.publish.fault import os_fault
from sitegen.publish.host import Entry
from sitegen.values import atomic


@dataclass(frozen=True, slots=True)
class FolderHost:
    """Keeps files below *root*, which is made where it is missing."""

    root: Path

    @property
    def place(self) -> str:
        return str(self.root)

    def size(self, path: str) -> int | None:
        with self._guarded(path):
            try:
                return (self.root / path).stat().st_size
            except FileNotFoundError:
                return None

    def put_new(self, path: str, data: bytes) -> None:
        with self._guarded(path):
            target = self.root / path
            target.parent.mkdir(parents=True, exist_ok=True)
            atomic.put(target, data)

    def replace(self, path: str, data: bytes) -> None:
        self.put_new(path, data)

    def read(self, path: str) -> bytes | None:
        with self._guarded(path):
            try:
                return (self.root / path).read_bytes()
            except FileNotFoundError:
                return None

    def list(self, folder: str) -> tuple[Entry, ...]:
        with self._guarded(folder):
            try:
                found = sorted((self.root / folder).iterdir())
            except FileNotFoundError:
                return ()
            states = [(path.name, path.lstat()) for path in found]
            return tuple(Entry(name, state.st_size) for name, state in states if stat.S_ISREG(state.st_mode))

    def delete(self, path: str) -> None:
        with self._guarded(path):
            (self.root / path).unlink(missing_ok=True)

    def close(self) -> None:
        """Nothing is held open."""

    @contextmanager
    def _guarded(self, path: str) -> Iterator[None]:
        try:
            yield
        except OSError as error:
            raise os_fault(error, self.place, path) from None


def kept_in_history(root: Path) -> bool:
    """Whether a version history keeps what was ever in *root*: what is withdrawn stays readable there.

    One that ignores the folder does not. Where nobody can be asked, it is taken to keep it.
    """
    over = next((folder for folder in (root, *root.parents) if (folder / ".git").exists()), None)
    return over is not None and not _ignored(over, root / "index.html")


def _ignored(over: Path, path: Path) -> bool:
    git = shutil.which("git")
    if git is None:
        return False
    asked = [git, "-C", str(over), "check-ignore", "--quiet", "--", str(path)]
    try:
        return subprocess.run(asked, check=False, capture_output=True, timeout=10).returncode == 0  # noqa: S603 - a question to git about one path
    except (OSError, subprocess.TimeoutExpired):
        return False
