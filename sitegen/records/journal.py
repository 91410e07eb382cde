"""An event's journal: what was sent, answered and agreed, one file a record, only ever added to.

A record is `records/0001-revision.json` in the event's folder:

    {"format":1,"kind":"revision","number":1,"at":"2031-05-03","previous":"","body":{…},"sum":"…"}

`previous` is the SHA-256 of the file before, so that none can be changed or taken out unseen, and `sum` that
of what stands before it in the file itself, since no record follows the last. Line ends are read as LF: a
shared history may write them otherwise. Only their numbers order records: a clock may be wrong.
"""

import datetime as dt
import hashlib
import json
import re
import stat
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any

from sitegen.records.plain import plain, restore
from sitegen.values.problem import Problem, whole_file

FORMAT = 1
FOLDER = "records"
LARGEST = 50_000_000
_NAME = re.compile(r"([0-9]{4,9})-([a-z]{1,20})\.json", re.ASCII)

Kinds = Mapping[str, Any]
"""What may stand in a journal, and the type of its body; `Any` for plain data."""


@dataclass(frozen=True, slots=True)
class Record:
    """One record. `body` is what its kind says; `digest` is the SHA-256 of its file."""

    number: int
    kind: str
    at: dt.date  # a moment, where a time of day was known
    previous: str
    body: object
    digest: str

    @property
    def name(self) -> str:
        return f"{self.number:04}-{self.kind}.json"

    @property
    def day(self) -> dt.date:
        return self.at.date() if isinstance(self.at, dt.datetime) else self.at


@dataclass(frozen=True, slots=True)
class Journal:
    """The records that can be trusted, from the first on, and what is wrong with the others.

    Nothing may be added while `problems` has an error.
    """

    folder: Path
    shown: str
    kinds: Kinds = field(repr=False)
    records: tuple[Record, ...] = ()
    problems: tuple[Problem, ...] = ()

    @property
    def last(self) -> Record | None:
        return self.records[-1] if self.records else None

    def of(self, kind: str) -> tuple[Record, ...]:
        return tuple(record for record in self.records if record.kind == kind)

    def after(self, record: Record) -> "Journal":
        return replace(self, records=(*self.records, record))


def read_journal(event: Path, shown: str, kinds: Kinds) -> Journal:
    """Read the records of the event whose folder is *event*, shown to people as *shown*. Raises OSError."""
    journal = Journal(event / FOLDER, f"{shown}/{FOLDER}", kinds)
    if journal.folder.is_symlink():
        what = "this is a link, not a folder"
        return replace(journal, problems=(_problem("record-damaged", journal, "", what),))
    names, problems = _names(journal)
    records: list[Record] = []
    before: str | None = ""
    for number in range(1, max(names, default=0) + 1):
        found = _one(journal, number, names.get(number, ()), before)
        if isinstance(found, Problem):
            problems.append(found)
            if found.code == "record-chain":
                del records[number - 2 :]  # either of the two may be the one that was changed
            before = None
            continue
        if before is not None and len(records) == number - 1:
            records.append(found)
        before = found.digest
    return replace(journal, records=tuple(records), problems=tuple(problems))


def listed(folder: Path) -> list[str]:
    """Name what stands in *folder*, sorted; hidden files and an editor's leftovers are passed over."""
    if not folder.is_dir():
        return []
    return sorted(
        path.name
        for path in folder.iterdir()
        if not path.name.startswith((".", "_", "~")) and not path.name.endswith("~")
    )


def number_of(name: str) -> int:
    """Give the number of a record's file; 0 for any other file."""
    match = _NAME.fullmatch(name)
    return int(match[1]) if match else 0


def _names(journal: Journal) -> tuple[dict[int, tuple[str, ...]], list[Problem]]:
    names: dict[int, tuple[str, ...]] = {}
    problems: list[Problem] = []
    for name in listed(journal.folder):
        number = number_of(name)
        if number and stat.S_ISREG((journal.folder / name).lstat().st_mode):
            names[number] = (*names.get(number, ()), name)
        else:
            place = whole_file(f"{journal.shown}/{_printable(name)}")
            what, why = "this is no record of ours", "It is left alone, and nothing in it is read."
            problems.append(
                Problem("record-foreign", place, what, why, "keep it outside records/", "warning")
            )
    # A number far beyond the count would otherwise be told as millions that are missing.
    far = {number: of for number, of in names.items() if number > sum(map(len, names.values())) + 99}
    for number, of in far.items():
        problems.append(
            _problem("record-missing", journal, of[0], f"the records before {number} are missing")
        )
        del names[number]
    return names, problems


def _one(journal: Journal, number: int, names: tuple[str, ...], before: str | None) -> Record | Problem:
    """Read the record of that number; *before* is the digest of the one before, where that is known."""
    if not names:
        return _problem("record-missing", journal, "", f"record {number} is missing")
    if len(names) > 1:
        what = f"there are {len(names)} records with the number {number}"
        fix = (
            "two machines wrote at once: keep the one that counts here, and record what the other says again"
        )
        return _problem("record-twice", journal, names[1], what, fix=fix, related=names[0])
    found = _read(journal, names[0])
    if isinstance(found, Record) and before is not None and found.previous != before:
        what = "this record does not follow the one before it"
        return _problem("record-chain", journal, names[0], what)
    return found


def _read(journal: Journal, name: str) -> Record | Problem:
    path = journal.folder / name
    if path.stat().st_size > LARGEST:
        # Ours are far smaller; whatever this is, it need not be read to be told.
        return _problem("record-damaged", journal, name, "this file is too large for a record")
    data = path.read_bytes().replace(b"\r\n", b"\n")
    try:
        parsed = json.loads(data, parse_float=_no_float, parse_constant=_no_float)
        if not isinstance(parsed, dict) or type(parsed.get("format")) is not int:
            return _problem("record-damaged", journal, name, "this file is no record")
        if parsed["format"] > FORMAT or parsed.get("kind") not in journal.kinds:
            return _newer(journal, name)
        return _checked(journal, name, parsed, data)
    except (ValueError, TypeError, KeyError, RecursionError):
        return _problem("record-damaged", journal, name, "this record is cut short or damaged")


def _no_float(text: str) -> int:
    raise ValueError(f"{text} is no whole number")


def _checked(journal: Journal, name: str, parsed: dict[str, Any], data: bytes) -> Record | Problem:
    """The record that *parsed* is, if its sum is right and it stands under its own name. Raises `Misfit`."""
    said = {key: value for key, value in parsed.items() if key != "sum"}
    if parsed.get("sum") == _sum(said):
        kind = restore(str, parsed["kind"])
        number, previous = restore(int, parsed["number"]), restore(str, parsed["previous"])
        body = restore(journal.kinds[kind], parsed["body"], kind)
        record = sealed(number, kind, restore(dt.date, parsed["at"]), previous, body)
        if record.name == name and record_bytes(record) == data:
            return record
    return _problem("record-edited", journal, name, "this record was changed after it was written")


def _newer(journal: Journal, name: str) -> Problem:
    what = "this record was written by a newer sitegen"
    return _problem("record-newer", journal, name, what, fix="install the newer version here too")


def sealed(number: int, kind: str, at: dt.date, previous: str, body: object) -> Record:
    """Give a record with the digest of its file."""
    bare = Record(number, kind, at, previous, body, "")
    return replace(bare, digest=hashlib.sha256(record_bytes(bare)).hexdigest())


def record_bytes(record: Record) -> bytes:
    """Give the bytes of a record's file: the same for the same record."""
    said = {
        "format": FORMAT,
        "kind": record.kind,
        "number": record.number,
        "at": record.at.isoformat(),
        "previous": record.previous,
        "body": plain(record.body),
    }
    return (_json({**said, "sum": _sum(said)}) + "\n").encode(errors="surrogatepass")


def _sum(said: dict[str, Any]) -> str:
    return hashlib.sha256(_json(said).encode(errors="surrogatepass")).hexdigest()


def _json(data: dict[str, Any]) -> str:
    return json.dumps(data, ensure_ascii=False, separators=(",", ":"))


def _printable(name: str) -> str:
    return "".join(char if char.isprintable() else "?" for char in name)


def _problem(
    code: str, journal: Journal, name: str, what: str, *, fix: str = "", related: str = ""
) -> Problem:
    return Problem(
        code=code,
        place=whole_file(f"{journal.shown}/{name}" if name else journal.shown),
        what=what,
        why="What was sent and agreed must be told from it, so it is not used, nor any record after it.",
        fix=fix
        or "put it back from a copy of yours; without one, move it and those after it out of records/",
        related=((("also", whole_file(f"{journal.shown}/{related}"))),) if related else (),
        event=Path(journal.shown).parent.name,
    )
