"""What a case needs and no repository can hold: pipes, links, large files, real photos."""

import os
import shutil
from collections.abc import Callable
from pathlib import Path

from PIL import Image

EVENT = Path("content/events/2031-06-14-base")


def replace(path: Path, old: str, new: str) -> None:
    """Change a file of the base, which must hold *old*."""
    text = path.read_text(encoding="utf-8")
    assert old in text, f"{path} has no {old!r}"
    path.write_text(text.replace(old, new), encoding="utf-8")


def _empty(home: Path) -> None:
    shutil.rmtree(home / "content")
    (home / "content").mkdir()


def _latin(home: Path) -> None:
    path = home / EVENT / "event.md"
    replace(path, "Ada and Ben", "Zoë and Ben")
    path.write_bytes(path.read_text(encoding="utf-8").encode("latin-1"))


def _pipe(home: Path) -> None:
    os.mkfifo(home / EVENT / "02-pipe.md")


def _nowhere(home: Path) -> None:
    (home / EVENT / "02-link.md").symlink_to("nowhere.md")


def _outside(home: Path) -> None:
    (home / "secret.md").write_text("secret", encoding="utf-8")
    (home / EVENT / "02-link.md").symlink_to(home / "secret.md")


def _folder_link(home: Path) -> None:
    (home / "content/events/2031-06-15-again").symlink_to(home / EVENT)


def _odd(home: Path) -> None:
    (home / EVENT / "02-\x1b[31mred\n<b>.md").write_text("", encoding="utf-8")


def _large(home: Path) -> None:
    (home / EVENT / "02-large.md").write_bytes(b"x" * 1_000_001)


def _long(home: Path) -> None:
    replace(home / EVENT / "event.md", "Dear both.", "word " * 4001)


def _many(home: Path) -> None:
    lines = "".join(f"  stem-{n}: 1\n" for n in range(300))
    replace(home / EVENT / "01-bouquet.md", "recipe:\n", f"recipe:\n{lines}")


def _photo(home: Path) -> None:
    (home / EVENT / "photos").mkdir()
    Image.new("RGB", (8, 8)).save(home / EVENT / "photos/rose.jpg")


PREPARE: dict[str, Callable[[Path], None]] = {
    "content-empty": _empty,
    "event-missing": lambda home: (home / EVENT / "event.md").unlink(),
    "file-encoding": _latin,
    "file-kind": _pipe,
    "file-large": _large,
    "file-link": _nowhere,
    "file-missing": lambda home: (home / "content/goods.yaml").unlink(),
    "file-outside": _outside,
    "folder-link": _folder_link,
    "name-odd": _odd,
    "photo-alt": _photo,
    "photo-missing": _photo,
    "pieces-none": lambda home: (home / EVENT / "01-bouquet.md").unlink(),
    "problems-many": _many,
    "words-long": _long,
}
