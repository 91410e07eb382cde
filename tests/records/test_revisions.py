"""Revisions: made only where the couple see or pay something else, numbered, and what stage they bring."""

import datetime as dt
from pathlib import Path
from typing import Any

import pytest

from sitegen.choices.picks import Picks
from sitegen.price.event import price_event
from sitegen.records.agreed import Reply
from sitegen.records.append import append
from sitegen.records.journal import Journal, Record
from sitegen.records.plain import plain
from sitegen.records.revisions import (
    KINDS,
    Revision,
    last_revision,
    make_revision,
    read_records,
    revisions,
    stage,
)
from sitegen.records.snapshot import Snapshot, snapshot
from tests import make
from tests.records.by_hand import rewrite
from tests.render import sample

DAY = dt.date(2031, 5, 3)


def read(event: Path) -> Journal:
    return read_records(event, "e")


def of(**more: Any) -> Snapshot:
    return snapshot(sample.priced(**more))


def send(event: Path, now: Snapshot, at: dt.date = DAY) -> Revision | None:
    return make_revision(read(event), now, at)


def test_the_first_is_made_and_the_same_again_is_not(event: Path) -> None:
    made = send(event, of())
    assert made is not None
    assert (made.number, made.day, made.snapshot) == (1, DAY, of())
    assert send(event, of(), DAY + dt.timedelta(days=1)) is None
    assert send(event, of(private="a note to self"), DAY) is None
    assert len(read(event).records) == 1


def test_revisions_count_by_themselves_between_other_records(event: Path) -> None:
    send(event, of())
    append(read(event), "reply", DAY, Reply(1, Picks(()), 0, "", 0, 0, 0))
    second = send(event, of(valid="10 days"), dt.date(2031, 5, 9))
    assert second is not None
    assert (second.number, second.record.name) == (2, "0003-revision.json")
    assert second.valid_until == dt.date(2031, 5, 19)
    found = revisions(read(event).records)
    assert [one.number for one in found] == [1, 2]
    assert last_revision(read(event).records) == second
    assert found[0].snapshot == of()


def test_going_back_is_a_revision_too(event: Path) -> None:
    for now in (of(), of(valid="10 days"), of()):
        assert send(event, now) is not None
    assert [one.number for one in revisions(read(event).records)] == [1, 2, 3]


def test_the_day_and_the_clock_decide_nothing(event: Path) -> None:
    send(event, of(), dt.datetime(2031, 5, 3, 14, 5, tzinfo=dt.UTC))
    later = send(event, of(valid="10 days"), dt.date(2011, 1, 1))
    assert last_revision(read(event).records) == later


def test_without_a_number_of_days_no_day_is_named(event: Path) -> None:
    bare = {key: value for key, value in sample.EVENT.items() if key != "valid"}
    folder = make.event(sample.BOUQUETS, **bare)
    made = send(event, snapshot(price_event(sample.shared(), folder)))
    assert made is not None
    assert made.valid_until is None


def test_a_snapshot_that_does_not_fit_is_a_problem_and_no_traceback(event: Path) -> None:
    made = send(event, of())
    assert made is not None

    def spoil(said: dict[str, Any]) -> None:
        said["body"]["snapshot"]["shown"]["table"]["pieces"][0]["each"] = ["1.5"]

    rewrite(event / "records" / made.record.name, spoil)
    journal = read(event)
    assert [problem.code for problem in journal.problems] == ["record-damaged"]
    assert last_revision(journal.records) is None


def journal_of(*kinds: str) -> list[Record]:
    return [Record(i, kind, DAY, "", None, "") for i, kind in enumerate(kinds, 1)]


@pytest.mark.parametrize(
    ("kinds", "expected"),
    [
        ((), "draft"),
        (("revision",), "sent"),
        (("revision", "reply"), "answered"),
        (("revision", "reply", "revision"), "sent"),
        (("revision", "reply", "revision", "reply"), "answered"),
        (("revision", "reply", "approval"), "approved"),
        (("revision", "approval", "revision"), "approved"),
        (("revision", "approval", "placed"), "approved"),
        (("revision", "reply", "approval", "withdrawal"), "answered"),
        (("revision", "approval", "withdrawal"), "sent"),
        (("revision", "approval", "withdrawal", "approval"), "approved"),
    ],
)
def test_the_stage(kinds: tuple[str, ...], expected: str) -> None:
    records = journal_of(*kinds)
    assert stage(records, DAY, DAY) == expected
    assert stage(records, DAY, DAY + dt.timedelta(days=1)) == "past"


def test_every_kind_that_the_stage_knows_may_stand_in_a_journal() -> None:
    assert {"revision", "reply", "approval", "withdrawal", "placed", "unplaced"} == set(KINDS)


def test_a_revision_is_stored_as_it_is_plain(event: Path) -> None:
    made = send(event, of())
    assert made is not None
    assert plain(made.record.body) == {"revision": 1, "snapshot": plain(of())}
