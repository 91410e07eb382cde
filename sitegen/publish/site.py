"""The sealed site of one event as a value: what must stand at the host, byte for byte.

`<pid>/index.html` is the only file that changes; a blob `<pid>/b/….bin` never
does, since its name is made from what is in it. Blobs are named as the page
names them, with `b/`. The files in `site_files` are shared
by all events and stand beside their folders.
"""

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from hashlib import sha256
from pathlib import Path

# 26 symbols of Crockford's base 32, lower case: 128 bits.
_SYMBOLS = "[0-9a-hjkmnp-tv-z]{26}"
PID = re.compile(_SYMBOLS)
BLOB = re.compile(rf"b/{_SYMBOLS}\.bin")
SHARED_NAMES = ("404.html", "_headers", ".nojekyll")
# What an upload writes before its rename; only these names are ever tidied away as left over.
PART = re.compile(rf"\.(?:index\.html|{_SYMBOLS}\.bin)\.part")


@dataclass(frozen=True, slots=True)
class SealedSite:
    """One event's page, its blobs by name (as bytes or a file of them), and the files shared by all.

    Raises ValueError where a name is not one that sealing makes: whatever
    deletes by these names must never meet another.
    """

    pid: str
    index: bytes = field(repr=False)
    blobs: Mapping[str, bytes | Path] = field(repr=False)
    site_files: Mapping[str, bytes] = field(repr=False)

    def __post_init__(self) -> None:
        check_pid(self.pid)
        odd = [name for name in self.blobs if not BLOB.fullmatch(name)]
        odd += [name for name in self.site_files if name not in SHARED_NAMES]
        if odd:
            raise ValueError(f"not a name of a sealed file: {odd[0]}")

    def content(self, path: str) -> bytes:
        """Give the bytes that belong at *path*. Raises OSError where a blob's file cannot be read."""
        if path == index_path(self.pid):
            return self.index
        if path in self.site_files:
            return self.site_files[path]
        blob = self.blobs[path.removeprefix(f"{self.pid}/")]
        return blob if isinstance(blob, bytes) else blob.read_bytes()

    def size(self, name: str) -> int:
        """How many bytes blob *name* has."""
        blob = self.blobs[name]
        return len(blob) if isinstance(blob, bytes) else blob.stat().st_size


def check_pid(pid: str) -> None:
    """Raise ValueError unless *pid* is the name of an event's folder at the host."""
    if not PID.fullmatch(pid):
        raise ValueError("not the name of a sealed folder")


def index_path(pid: str) -> str:
    return f"{pid}/index.html"


def blob_folder(pid: str) -> str:
    return f"{pid}/b"


def blob_path(pid: str, name: str) -> str:
    return f"{pid}/{name}"


def digest(data: bytes) -> str:
    """SHA-256 in hex: how receipts name what was sent."""
    return sha256(data).hexdigest()
