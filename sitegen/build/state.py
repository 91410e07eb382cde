"""What the last build made, kept so that what is unchanged need not be made again.

A lost or damaged state only makes the next build slower. It names files by
size and time: whatever somebody changed in the output is written anew.
"""

import json
import os
from collections.abc import Iterable
from dataclasses import astuple, dataclass, field
from hashlib import blake2b
from pathlib import Path
from typing import Any

from sitegen import report
from sitegen.order.shelf import Out
from sitegen.report import Finding

_VERSION = 4


@dataclass(frozen=True, slots=True)
class Written:
    """A file of the output: its path there, size and time of change."""

    name: str
    size: int
    changed: int


@dataclass(frozen=True, slots=True)
class Made:
    """One event as it was built: from what (*key*), its files, pictures, row on the desk, and warnings.

    *sealed* are its files below `sealed/`, and *secrets* tells which key file they were sealed with. *outs*
    is what it has out on hire, and *beside* the stamp of what other events had out meanwhile.
    """

    key: str
    files: tuple[str, ...]
    pictures: tuple[str, ...]
    row: dict[str, Any]
    findings: tuple[Finding, ...]
    sealed: tuple[str, ...] = ()
    secrets: str = ""
    outs: tuple[Out, ...] = ()
    beside: str = ""


@dataclass(slots=True)
class State:
    """The last build: events by id, every file it wrote, and the desk's own key."""

    events: dict[str, Made] = field(default_factory=dict)
    written: dict[str, Written] = field(default_factory=dict)
    desk: str = ""
    findings: tuple[Finding, ...] = ()


def state_path(home: Path, content: Path, out: Path) -> Path:
    """Two content folders side by side, or two outputs of one, keep a state each."""
    mark = blake2b(f"{content}\0{out}".encode(), digest_size=6).hexdigest()
    return home / "cache" / f"built-{mark}.json"


def load(path: Path) -> State:
    """Read the state at *path*; an empty one where there is none that can be read."""
    try:
        data = json.loads(path.read_bytes())
        if data["version"] != _VERSION:
            return State()
        events = {name: _made(made) for name, made in data["events"].items()}
        written = {name: Written(name, size, changed) for name, size, changed in data["written"]}
        return State(events, written, data["desk"], tuple(report.again(one) for one in data["findings"]))
    except (OSError, ValueError, KeyError, TypeError):
        return State()


def _made(data: dict[str, Any]) -> Made:
    findings = tuple(report.again(one) for one in data["findings"])
    files, pictures, sealed = (tuple(data[name]) for name in ("files", "pictures", "sealed"))
    outs = tuple(Out(*one) for one in data["outs"])
    row, secrets, beside = data["row"], data["secrets"], data["beside"]
    return Made(data["key"], files, pictures, row, findings, sealed, secrets, outs, beside)


def save(path: Path, state: State) -> None:
    """Write *state* beside and rename. Raises OSError where the disk refuses."""
    events = {
        name: {
            "key": made.key,
            "files": made.files,
            "pictures": made.pictures,
            "row": made.row,
            "findings": report.plain(made.findings),
            "sealed": made.sealed,
            "secrets": made.secrets,
            "outs": [astuple(out) for out in made.outs],
            "beside": made.beside,
        }
        for name, made in state.events.items()
    }
    written = [[one.name, one.size, one.changed] for one in state.written.values()]
    data = {
        "version": _VERSION,
        "events": events,
        "written": written,
        "desk": state.desk,
        "findings": report.plain(state.findings),
    }
    path.parent.mkdir(parents=True, exist_ok=True)
    beside = path.with_suffix(f".{os.getpid()}.part")
    beside.write_text(json.dumps(data, separators=(",", ":")), encoding="utf-8")
    beside.replace(path)


def seen(folder: Path, names: Iterable[str]) -> dict[str, Written]:
    """Note size and time of files in *folder*."""
    found = {}
    for name in names:
        state = (folder / name).stat()
        found[name] = Written(name, state.st_size, state.st_mtime_ns)
    return found


def untouched(folder: Path, state: State, names: Iterable[str]) -> bool:
    """Whether all *names* are in *folder* as they were written."""
    for name in names:
        known = state.written.get(name)
        try:
            now = os.stat(f"{folder}/{name}")  # noqa: PTH116 - thousands of files: a Path for each doubles the time
        except OSError:
            return False
        if known is None or (now.st_size, now.st_mtime_ns) != (known.size, known.changed):
            return False
    return True
