"""A mark of the painter itself: who paints otherwise paints anew, and nobody has to think of it."""

import hashlib
from functools import cache
from pathlib import Path

_HERE = Path(__file__).parent
STAMPS = _HERE.parent / "stamps"
# What these do is in a brief, or in no pixel.
_NO_PAINTERS = {"__init__.py", "describe.py", "make.py", "painter.py", "plan.py"}


@cache
def painter() -> str:
    """Digest the source of all that arranges and paints, and the stamps; read once a process."""
    return digest_of([path for path in _HERE.glob("*.py") if path.name not in _NO_PAINTERS], STAMPS)


def digest_of(sources: list[Path], stamps: Path) -> str:
    """Give one name for the bytes of these files by their names."""
    found = hashlib.blake2b(digest_size=16)
    for path in sorted([*sources, *stamps.iterdir()], key=lambda path: path.name):
        found.update(path.name.encode() + b"\0" + hashlib.blake2b(path.read_bytes()).digest())
    return found.hexdigest()
