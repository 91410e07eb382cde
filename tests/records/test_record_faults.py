"""Recording that ends badly: killed at every step, disk full, two at once. What was there stays, and goes on."""

import datetime as dt
import os
import resource
import signal
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

from sitegen.records.append import append
from sitegen.records.journal import Journal, read_journal
from tests.running import ROOT

DAY = dt.date(2031, 5, 3)
KINDS: dict[str, Any] = {"revision": Any, "reply": Any}
BIG = {"say": "x" * 50_000}

# A child that adds one record and dies by SIGKILL before its n-th call to the disk; 0 is never.
CHILD = """
import datetime as dt, os, signal, sys
from pathlib import Path
from typing import Any
from sitegen.records import append as writing
from sitegen.records.journal import read_journal

count = 0

def deadly(call):
    def made(*given, **named):
        global count
        count += 1
        if count == int(sys.argv[2]):
            os.kill(os.getpid(), signal.SIGKILL)
        return call(*given, **named)
    return made

journal = read_journal(Path(sys.argv[1]), "e", {"revision": Any, "reply": Any})
for place, name in ((os, "fsync"), (os, "link"), (os, "open"), (Path, "open"), (Path, "unlink"), (Path, "mkdir")):
    setattr(place, name, deadly(getattr(place, name)))
if sys.argv[3] == "no-links":
    def no_links(*given):
        raise PermissionError(1, "Operation not permitted")
    os.link = no_links
    Path.rename = deadly(Path.rename)
writing.append(journal, "reply", dt.date(2031, 5, 3), {"say": "x" * 50_000})
"""


def read(event: Path) -> Journal:
    return read_journal(event, "e", KINDS)


def child(event: Path, step: int, links: str = "links", **more: Any) -> "subprocess.CompletedProcess[str]":
    return subprocess.run(
        [sys.executable, "-c", CHILD, str(event), str(step), links],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=False,
        timeout=60,
        **more,
    )


@pytest.mark.slow
@pytest.mark.parametrize("links", ["links", "no-links"])
@pytest.mark.parametrize("before", [0, 1])
def test_a_kill_at_any_step_leaves_the_record_whole_or_not_there(
    event: Path, before: int, links: str
) -> None:
    if before:
        append(read(event), "revision", DAY, {"say": "first"})
    known = read(event).records
    step = 0
    outcomes = []
    while step < 30:
        step += 1
        done = child(event, step, links)
        journal = read(event)
        assert journal.problems == ()
        assert journal.records[: len(known)] == known
        added = journal.records[len(known) :]
        assert [record.body for record in added] in ([], [BIG])
        if done.returncode == 0:
            break
        assert done.returncode == -signal.SIGKILL, done.stderr
        outcomes.append(len(added))
        known = journal.records
    # It was cut both before and after the record was there, and the last run needed no help.
    assert {0, 1} <= set(outcomes)
    assert step > 6
    assert list((event / "records").glob(".*.part")) == []


def test_half_a_file_left_beside_is_cleared_away(event: Path) -> None:
    (event / "records").mkdir()
    (event / "records" / ".0001-reply.json.part").write_text('{"format":1,"ki')
    assert read(event).records == ()
    assert len(append(read(event), "reply", DAY, {}).records) == 1
    assert sorted(path.name for path in (event / "records").glob("*.json*")) == ["0001-reply.json"]


def test_a_full_disk_adds_nothing_and_a_later_run_goes_on(event: Path) -> None:
    append(read(event), "revision", DAY, {"say": "first"})
    before = read(event)

    def small_files() -> None:
        # The system refuses any file above this size, as a full disk would.
        signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
        resource.setrlimit(resource.RLIMIT_FSIZE, (20_000, 20_000))

    done = child(event, 0, preexec_fn=small_files, env={**os.environ, "PYTHONDONTWRITEBYTECODE": "1"})
    assert done.returncode != 0
    assert "OSError" in done.stderr
    assert read(event) == before
    assert list((event / "records").glob(".*.part")) == []
    assert child(event, 0).returncode == 0
    assert len(read(event).records) == 2


def test_a_folder_that_cannot_be_made_is_the_disk_s_refusal(event: Path) -> None:
    (event / "records").write_text("a file where the folder should be")
    with pytest.raises(OSError, match="records"):
        append(Journal(event / "records", "e/records", KINDS), "reply", DAY, {})
    assert (event / "records").read_text() == "a file where the folder should be"


WRITER = """
import datetime as dt, sys
from pathlib import Path
from typing import Any
from sitegen.records.append import Overtaken, append
from sitegen.records.journal import read_journal

done = 0
while done < 8:
    journal = read_journal(Path(sys.argv[1]), "e", {"revision": Any, "reply": Any})
    try:
        append(journal, sys.argv[2], dt.date(2031, 5, 3), [sys.argv[3], done])
        done += 1
    except Overtaken:
        pass
"""


@pytest.mark.slow
def test_writers_at_once_lose_nothing_and_share_no_number(event: Path) -> None:
    writers = [
        subprocess.Popen([sys.executable, "-c", WRITER, str(event), kind, str(i)], cwd=ROOT)
        for i, kind in enumerate(("reply", "revision", "reply"))
    ]
    assert [one.wait(timeout=90) for one in writers] == [0, 0, 0]
    journal = read(event)
    assert journal.problems == ()
    assert sorted(map(str, (record.body for record in journal.records))) == sorted(
        str([str(i), n]) for i in range(3) for n in range(8)
    )


def test_a_file_of_the_same_name_is_never_replaced(event: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Whoever does not take the lock, such as a synced folder, still loses nothing to us."""
    folder = event / "records"
    folder.mkdir()
    real = os.fsync

    def meanwhile(handle: int) -> None:
        real(handle)
        (folder / "0001-reply.json").write_text("theirs")

    monkeypatch.setattr(os, "fsync", meanwhile)
    with pytest.raises(Exception, match="0001-reply"):
        append(read(event), "reply", DAY, {})
    assert (folder / "0001-reply.json").read_text() == "theirs"
