"""The journal of an event: added to, chained, and whatever was changed in it is named and never used."""

import datetime as dt
import hashlib
import json
import os
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from sitegen.records.append import Overtaken, append
from sitegen.records.journal import Journal, read_journal
from sitegen.report import finding, text
from tests.records.by_hand import rewrite

DAY = dt.date(2031, 5, 3)
KINDS: dict[str, Any] = {"revision": Any, "reply": Any}


def read(event: Path) -> Journal:
    return read_journal(event, f"content/events/{event.name}", KINDS)


def filled(event: Path, number: int = 3) -> Path:
    """Three records, each with a body of its own."""
    for i in range(number):
        append(read(event), "revision" if i == 0 else "reply", DAY, {"say": f"number {i}", "é": [1, None]})
    return event / "records"


def codes(journal: Journal) -> list[str]:
    return [problem.code for problem in journal.problems]


def test_an_event_without_records_has_none(event: Path) -> None:
    assert read(event).records == ()
    assert read(event).problems == ()
    assert not (event / "records").exists()


def test_records_are_added_one_file_each_and_chained(event: Path) -> None:
    folder = filled(event)
    assert sorted(path.name for path in folder.glob("*.json")) == [
        "0001-revision.json", "0002-reply.json", "0003-reply.json",
    ]  # fmt: skip
    journal = read(event)
    assert journal.problems == ()
    assert [record.body for record in journal.records] == [
        {"say": f"number {i}", "é": [1, None]} for i in range(3)
    ]
    files = [json.loads((folder / record.name).read_bytes()) for record in journal.records]
    assert [list(one) for one in files] == [["format", "kind", "number", "at", "previous", "body", "sum"]] * 3
    # The chain, by the standard library's own SHA-256 over the bytes on the disk.
    digests = [hashlib.sha256((folder / record.name).read_bytes()).hexdigest() for record in journal.records]
    assert [one["previous"] for one in files] == ["", *digests[:-1]]
    assert [record.digest for record in journal.records] == digests


def test_what_append_gives_is_what_is_read(event: Path) -> None:
    moment = dt.datetime(2031, 5, 3, 14, 5, tzinfo=dt.UTC)
    added = append(append(read(event), "revision", DAY, {}), "reply", moment, ["a"])
    assert added == read(event)
    assert [record.at for record in added.records] == [DAY, moment]
    assert added.records[1].day == DAY


def test_the_same_records_have_the_same_bytes(tmp_path: Path) -> None:
    both = []
    for name in ("one", "two"):
        event = tmp_path / name
        event.mkdir()
        folder = filled(event)
        both.append([path.read_bytes() for path in sorted(folder.glob("*.json"))])
    assert both[0] == both[1]


def edit(name: str, old: str, new: str) -> Callable[[Path], object]:
    def change(folder: Path) -> None:
        content = (folder / name).read_text("utf-8")
        assert old in content
        (folder / name).write_text(content.replace(old, new), "utf-8")

    return change


def put(name: str, content: bytes) -> Callable[[Path], object]:
    return lambda folder: (folder / name).write_bytes(content)


def redo(name: str, **fields: Any) -> Callable[[Path], object]:
    return lambda folder: rewrite(folder / name, lambda said: said.update(fields))


FIRST, SECOND, LAST = "0001-revision.json", "0002-reply.json", "0003-reply.json"


@pytest.mark.parametrize(
    ("damage", "told", "sound"),
    [
        (lambda folder: (folder / FIRST).unlink(), ["record-missing"], 0),
        (lambda folder: (folder / SECOND).unlink(), ["record-missing"], 1),
        (lambda folder: (folder / LAST).rename(folder / "0009-reply.json"), [*["record-missing"] * 6, "record-edited"], 2),
        (lambda folder: (folder / LAST).rename(folder / "999999999-reply.json"), ["record-missing"], 2),
        (lambda folder: (folder / LAST).rename(folder / "0003-revision.json"), ["record-edited"], 2),
        (edit(SECOND, "number 1", "number 7"), ["record-edited"], 1),
        (edit(LAST, "number 2", "number 7"), ["record-edited"], 2),
        (edit(LAST, '"format":1', '"format": 1'), ["record-edited"], 2),
        (edit(LAST, "[1,null]", '[1,null],"body":{}'), ["record-edited"], 2),
        (redo(SECOND, body={"say": "by hand"}), ["record-chain"], 1),
        (redo(LAST, previous="0" * 64), ["record-chain"], 1),
        (redo(LAST, number=4), ["record-edited"], 2),
        (redo(LAST, number="3"), ["record-damaged"], 2),
        (redo(LAST, at="soon"), ["record-damaged"], 2),
        (redo(LAST, body=[0.5]), ["record-damaged"], 2),
        (redo(LAST, kind=["reply"]), ["record-damaged"], 2),
        (redo(LAST, format=2), ["record-newer"], 2),
        (redo(LAST, kind="invoice"), ["record-newer"], 2),
        (redo(LAST, format=True), ["record-damaged"], 2),
        (put("0003-approval.json", b"{}"), ["record-twice"], 2),
        (put(LAST, b""), ["record-damaged"], 2),
        (put(LAST, b"\xff\xfe\x00"), ["record-damaged"], 2),
        (put(LAST, b"[" * 100_000), ["record-damaged"], 2),
        (put(LAST, b"null"), ["record-damaged"], 2),
        (put(LAST, b'{"format":1,"at":NaN}'), ["record-damaged"], 2),
        (put(LAST, b'{"format":' + b"9" * 5_000 + b"}"), ["record-damaged"], 2),
        (put("notes.txt", b"mine"), ["record-foreign"], 3),
        (lambda folder: (folder / "0004-reply.json").mkdir(), ["record-foreign"], 3),
        (lambda folder: (folder / "0004-reply.json").symlink_to(FIRST), ["record-foreign"], 3),
        (lambda folder: os.mkfifo(folder / "0004-reply.json"), ["record-foreign"], 3),
        (put(".0004-reply.json.part", b"{"), [], 3),
        (put("0003-reply.json~", b"{"), [], 3),
    ],
)  # fmt: skip
def test_what_was_changed_is_named_and_nothing_after_it_is_used(
    event: Path, damage: Callable[[Path], object], told: list[str], sound: int
) -> None:
    folder = filled(event)
    whole = read(event).records
    damage(folder)
    journal = read(event)
    assert codes(journal) == told
    assert journal.records == whole[:sound]
    for problem in journal.problems:
        assert problem.place.source.path.startswith(f"content/events/{event.name}/records")
        assert problem.event == (event.name if problem.severity == "error" else "")


def test_every_torn_end_of_the_last_record_is_found(event: Path) -> None:
    folder = filled(event)
    data = (folder / LAST).read_bytes()
    for length in range(len(data)):
        (folder / LAST).write_bytes(data[:length])
        journal = read(event)
        assert len(journal.records) == 2, length
        assert codes(journal) in (["record-damaged"], ["record-edited"]), length


def test_every_changed_byte_is_found(event: Path) -> None:
    folder = filled(event)
    data = (folder / LAST).read_bytes()
    for i in range(len(data)):
        (folder / LAST).write_bytes(data[:i] + bytes([data[i] ^ 1]) + data[i + 1 :])
        assert len(read(event).records) == 2, i


def test_line_ends_that_a_shared_history_changed_are_no_edit(event: Path) -> None:
    folder = filled(event)
    for path in folder.glob("*.json"):
        path.write_bytes(path.read_bytes().replace(b"\n", b"\r\n"))
    assert read(event).problems == ()
    assert len(read(event).records) == 3
    append(read(event), "reply", DAY, {})
    assert read(event).problems == ()


def test_a_linked_folder_is_not_followed(event: Path, tmp_path: Path) -> None:
    filled(event)
    other = tmp_path / "other"
    other.mkdir()
    (other / "records").symlink_to(event / "records")
    assert codes(read(other)) == ["record-damaged"]
    assert read(other).records == ()


def test_nothing_is_added_to_a_journal_with_errors(event: Path) -> None:
    folder = filled(event)
    (folder / SECOND).unlink()
    with pytest.raises(ValueError, match="errors"):
        append(read(event), "reply", DAY, {})
    with pytest.raises(ValueError, match="invoice"):
        append(Journal(folder, "records", KINDS), "invoice", DAY, {})


def test_a_foreign_file_does_not_hold_up_the_next_record(event: Path) -> None:
    folder = filled(event)
    (folder / "notes.txt").write_text("mine")
    assert len(append(read(event), "reply", DAY, {}).records) == 4
    assert (folder / "notes.txt").read_text() == "mine"


def test_what_was_decided_on_an_older_journal_is_not_recorded(event: Path) -> None:
    filled(event)
    old = read(event)
    append(old, "reply", DAY, {"first": True})
    with pytest.raises(Overtaken):
        append(old, "reply", DAY, {"second": True})
    assert len(read(event).records) == 4
    assert read(event).records[-1].body == {"first": True}


def test_the_text_that_the_florist_reads(event: Path) -> None:
    folder = filled(event)
    edit(LAST, "number 2", "number 7")(folder)
    (problem,) = read(event).problems
    assert text(finding(problem)) == (
        "content/events/2031-06-14-test/records/0003-reply.json:1:1: error: this record was changed after it"
        " was written  [record-edited]\n"
        "why:  What was sent and agreed must be told from it, so it is not used, nor any record after it.\n"
        "fix:  put it back from a copy of yours; without one, move it and those after it out of records/"
    )
