"""What publishing asks of a host: six verbs. Another kind of host is one more file that has them.

Paths are relative, with `/`, and made by `site`: a host never decides what to
touch. Every verb may be called again after a fault: twice does what once does.
"""

from dataclasses import dataclass
from typing import Protocol

from sitegen.publish.fault import Fault

_FOR_EVER = "public, max-age=31536000, immutable"
_ASK_AGAIN = "no-cache, no-transform"
_MEDIA = {"html": "text/html; charset=utf-8", "bin": "application/octet-stream"}


@dataclass(frozen=True, slots=True)
class Entry:
    """A file in a folder of the host: its name there, and its size in bytes."""

    name: str
    size: int


class Host(Protocol):
    """A place that keeps files. Each verb raises `Fault`."""

    @property
    def place(self) -> str:
        """Name the host, user and folder for people and receipts; holds no secret."""

    def size(self, path: str) -> int | None:
        """Give the size in bytes, or None where there is no such file."""

    def put_new(self, path: str, data: bytes) -> None:
        """Write a file that never changes again: a reader sees nothing there, or all of it."""

    def replace(self, path: str, data: bytes) -> None:
        """Put *data* in place of what is there: a reader sees all of the old, or all of the new."""

    def read(self, path: str) -> bytes | None:
        """Give what is stored, not what a cache remembers; None where there is no such file."""

    def list(self, folder: str) -> tuple[Entry, ...]:
        """Give the files right in *folder* by name; nothing where there is no such folder."""

    def delete(self, path: str) -> None:
        """Take one file away; one that is gone already is no fault."""

    def close(self) -> None:
        """End connections."""


def media(path: str) -> str:
    """Give the type a file is served as; nothing is left to guessing by a host."""
    return _MEDIA.get(path.rsplit(".", 1)[-1], "text/plain; charset=utf-8")


def caching(path: str) -> str:
    """Blobs never change under their name; everything else is asked for anew."""
    return _FOR_EVER if path.endswith(".bin") else _ASK_AGAIN


def part(path: str) -> str:
    """Name the file beside *path* that is written first, in the same folder, then renamed."""
    folder, _, name = path.rpartition("/")
    return f"{folder}/.{name}.part" if folder else f".{name}.part"


def read_back(host: Host, path: str, data: bytes) -> None:
    """Raise a passing fault unless *path* holds exactly *data*."""
    if host.size(path) != len(data) or host.read(path) != data:
        raise Fault("again", host.place, f"{path} came back other than it was sent")
