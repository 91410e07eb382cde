"""Finds the files of a content folder and reads them; knows names and bytes, no meaning.

Opens regular files only: a pipe would wait for ever, and a link may lead out
of the folder that the florist meant to share.
"""

import os
import stat
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from hashlib import blake2b
from pathlib import Path
from unicodedata import category

from sitegen.values.nearest import misspelt
from sitegen.values.problem import Problem, whole_file
from sitegen.values.source import Place, Source

SHARED = ("studio.md", "stems.yaml", "goods.yaml", "suppliers.yaml", "stock.yaml", "publish.yaml")
LARGEST = 1_000_000
_SIGNS = " .,()+=@-_"
# Names on the desk that are not an event's.
_RESERVED = {"index.html", "pictures", "orders"}


@dataclass(frozen=True, slots=True)
class File:
    """A file as found: the path shown to people, and its bytes."""

    shown: str
    data: bytes = field(repr=False)


@dataclass(frozen=True, slots=True)
class Unopened:
    """A file that is not opened here, a picture or a record: its path and what tells whether it changed."""

    path: Path
    size: int
    changed: int


@dataclass(frozen=True, slots=True)
class EventFiles:
    """An event's folder: event.md, the pieces in order of their names, the photos and records by name.

    Records are no content: what was sent and agreed is read from *folder* by `records`, and only stands here
    because a page that shows it must be made anew when it changes.
    """

    id: str
    shown: str
    event: File | None
    pieces: Mapping[str, File]
    photos: Mapping[str, Unopened]
    problems: tuple[Problem, ...]
    records: Mapping[str, Unopened] = field(default_factory=dict)
    folder: Path = Path()

    def digest(self) -> bytes:
        """A hash that changes whenever anything here does."""
        state = blake2b(digest_size=16)
        for file in (self.event, *self.pieces.values()):
            if file:
                _put(state, file.shown.encode(), file.data)
        for kind, files in (("photo", self.photos), ("record", self.records)):
            for name, found in files.items():
                _put(state, kind.encode(), name.encode(), f"{found.size} {found.changed}".encode())
        for problem in self.problems:
            _put(state, problem.code.encode(), problem.place.source.path.encode())
        return state.digest()


@dataclass(frozen=True, slots=True)
class Tree:
    """A content folder: the shared files by name, and the events by date and name."""

    root: Path
    shown: str
    shared: Mapping[str, File]
    events: tuple[EventFiles, ...]
    problems: tuple[Problem, ...]

    def digest(self) -> bytes:
        """A hash of the shared files and of what is wrong with them."""
        state = blake2b(digest_size=16)
        for name, file in self.shared.items():
            _put(state, name.encode(), file.data)
        for problem in self.problems:
            _put(state, problem.code.encode(), problem.place.source.path.encode())
        return state.digest()


def _put(state: blake2b, *parts: bytes) -> None:
    for part in parts:
        state.update(len(part).to_bytes(8, "big"))
        state.update(part)


@dataclass(slots=True)
class _Walk:
    """One walk of a content folder: where it began, and what it met on the way."""

    root: Path
    shown: str
    problems: list[Problem] = field(default_factory=list)

    def entries(self, folder: Path) -> Iterator[os.DirEntry[str]]:
        """Yield what is in *folder* by name. Hidden names are left out, odd ones with a warning."""
        try:
            with os.scandir(folder) as found:
                entries = sorted(found, key=lambda entry: entry.name)
        except OSError:
            what, fix = "this folder cannot be opened", "allow yourself to read it"
            why = "Nothing in it can be read."
            self.problems.append(Problem("folder-closed", whole_file(self.show(folder)), what, why, fix))
            return
        for entry in entries:
            if entry.name.startswith((".", "_", "~")) or entry.name.endswith("~"):
                continue
            if _can_be_shown(entry.name):
                yield entry
            else:
                self.warn(
                    "name-odd",
                    entry,
                    "this name has characters that a page address cannot carry",
                    "rename it",
                )

    def show(self, path: str | Path) -> str:
        # Taking thousands of paths apart one by one would double the time of a scan.
        inner = os.fspath(path).removeprefix(os.fspath(self.root)).replace(os.sep, "/").strip("/")
        return f"{self.shown}/{inner}" if inner else self.shown

    def warn(self, code: str, entry: os.DirEntry[str], what: str, fix: str) -> None:
        shown = self.show(Path(entry.path).parent) + "/" + printable(entry.name)
        why = "It is left out, and nothing in it is read."
        self.problems.append(Problem(code, whole_file(shown), what, why, fix, "warning"))

    def regular(self, entry: os.DirEntry[str]) -> os.stat_result | None:
        """Give the state of a regular file; links may lead within the content folder only."""
        if entry.is_symlink() and not self.inside(entry):
            return None
        try:
            state = entry.stat()
        except OSError:
            self.warn("file-link", entry, "this link leads nowhere", "delete it or put the file itself here")
            return None
        if stat.S_ISREG(state.st_mode):
            return state
        if not stat.S_ISDIR(state.st_mode):
            self.warn("file-kind", entry, "this is no ordinary file", "take it out of the folder")
        return None

    def inside(self, entry: os.DirEntry[str]) -> bool:
        target = Path(os.path.realpath(entry.path))
        if target.is_relative_to(self.root):
            return True
        shown = self.show(entry.path)
        what = "this link leads out of the content folder"
        why = "What lies outside was never meant to be shown, and is not there on another machine."
        self.problems.append(
            Problem("file-outside", whole_file(shown), what, why, "put the file itself here")
        )
        return False

    def file(self, entry: os.DirEntry[str]) -> File | None:
        state = self.regular(entry)
        if state is None:
            return None
        shown = self.show(entry.path)
        if state.st_size > LARGEST:
            what = f"{state.st_size:,} bytes are too many for a file of words"
            why = "Such a file is most likely a picture or a copy of something else."
            fix = f"keep it below {LARGEST:,} bytes, or put it outside the content folder"
            self.problems.append(Problem("file-large", whole_file(shown), what, why, fix))
            return None
        with open(entry.path, "rb") as words:  # noqa: PTH123 - thousands of files: a Path for each takes longer
            return File(shown, words.read())


def printable(name: str) -> str:
    """Make a file's name safe to show: whatever does not print becomes `?`."""
    return "".join(char if char.isprintable() and char not in "<>&" else "?" for char in name)


def scan(root: Path, shown: str) -> Tree:
    """Read the content folder at *root*, shown to people as *shown*. Nothing is decoded yet."""
    real = Path(os.path.realpath(root))
    walk = _Walk(real, shown)
    shared: dict[str, File] = {}
    events: list[EventFiles] = []
    for entry in walk.entries(real):
        if entry.name in SHARED:
            if file := walk.file(entry):
                shared[entry.name] = file
        elif near := misspelt(entry.name, SHARED):
            walk.warn("file-unknown", entry, "no file of this name is read", f"call it {near}")
        elif entry.name == "events" and _is_folder(walk, entry):
            events = [
                _event(real, shown, inner)
                for inner in walk.entries(real / "events")
                if _is_folder(walk, inner) and _is_free(walk, inner)
            ]
    ordered = {name: shared[name] for name in SHARED if name in shared}
    return Tree(real, shown, ordered, tuple(events), tuple(walk.problems))


def _can_be_shown(name: str) -> bool:
    """Letters and digits of any script, with their marks, and a few signs: what a page address can carry."""
    return all(char in _SIGNS or category(char)[0] in "LMN" for char in name)


def _is_free(walk: _Walk, entry: os.DirEntry[str]) -> bool:
    if entry.name.lower() in _RESERVED:
        walk.warn("name-odd", entry, "the desk has a page of its own of this name", "rename it")
        return False
    return True


def _is_folder(walk: _Walk, entry: os.DirEntry[str]) -> bool:
    if entry.is_symlink():
        walk.warn("folder-link", entry, "this is a link, not a folder", "put the folder itself here")
        return False
    return entry.is_dir()


def _event(root: Path, shown: str, folder: os.DirEntry[str]) -> EventFiles:
    walk = _Walk(root, shown)
    event: File | None = None
    pieces: dict[str, File] = {}
    inner: dict[str, dict[str, Unopened]] = {"photos": {}, "records": {}}
    for entry in walk.entries(Path(folder.path)):
        if entry.name in inner and _is_folder(walk, entry):
            inner[entry.name] = _unopened(walk, entry)
        elif entry.name.endswith(".md") and (file := walk.file(entry)):
            if entry.name == "event.md":
                event = file
            else:
                pieces[entry.name] = file
    return EventFiles(
        folder.name,
        walk.show(folder.path),
        event,
        pieces,
        inner["photos"],
        tuple(walk.problems),
        inner["records"],
        Path(folder.path),
    )


def _unopened(walk: _Walk, folder: os.DirEntry[str]) -> dict[str, Unopened]:
    both = ((entry, walk.regular(entry)) for entry in walk.entries(Path(folder.path)))
    return {
        entry.name: Unopened(Path(entry.path), state.st_size, state.st_mtime_ns)
        for entry, state in both
        if state
    }


def source_of(file: File) -> tuple[Source | None, list[Problem]]:
    """Decode a file as UTF-8. CRLF is read as LF, and a byte order mark is skipped."""
    try:
        text = file.data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        return None, [_not_utf8(file, error.start)]
    return Source(file.shown, text.replace("\r\n", "\n").replace("\r", "\n")), []


def _not_utf8(file: File, offset: int) -> Problem:
    before = file.data[:offset].decode("utf-8", errors="replace")
    after = file.data[offset:].split(b"\n", 1)[0].decode("utf-8", errors="replace")
    place = Source(file.shown, before + after)
    what = f"byte {offset + 1} of this file is not UTF-8"
    why = "Names and words would come out as other letters on the couple's page."
    fix = "save the file again as UTF-8 in your editor"
    return Problem("file-encoding", Place(place, len(before), len(before) + 1), what, why, fix)
