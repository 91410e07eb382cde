"""Runs that end badly: killed, disk full, a swap cut in two. What was there before stays whole."""

import os
import resource
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from sitegen.build import staging
from tests.running import DAY, Command, sitegen, whole

EVENT = "2031-09-13-millrace"


def start(folder: Path, *events: str) -> "subprocess.Popen[bytes]":
    return subprocess.Popen(
        [sys.executable, "-m", "sitegen", "build", *events],
        cwd=folder,
        env={**os.environ, "SITEGEN_TODAY": DAY},
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
    )


def many(content: Path, number: int) -> None:
    """Copies of the one event, so that a build takes long enough to be cut."""
    first = content / "events" / EVENT
    for i in range(number):
        folder = content / "events" / f"2031-09-13-copy-{i:03}"
        folder.mkdir()
        for path in first.iterdir():
            (folder / path.name).write_bytes(path.read_bytes())


@pytest.mark.slow
@pytest.mark.parametrize(
    ("kill", "waits"),
    [(signal.SIGKILL, (0.3, 0.6, 0.8, 1.1)), (signal.SIGTERM, (0.7,)), (signal.SIGINT, (0.7, 1.0))],
)
def test_a_killed_build_leaves_the_old_output_or_the_new(
    studio: Path, kill: signal.Signals, waits: tuple[float, ...]
) -> None:
    many(studio / "content", 30)
    assert sitegen(studio, "build").returncode == 0
    old = whole(studio / "out" / "desk")
    piece = studio / "content" / "events" / EVENT / "01-hand-tied.md"
    text = piece.read_text()
    for number, wait in enumerate(waits):
        stems = studio / "content" / "studio.md"
        stems.write_text(stems.read_text() + f"\nTerm {number}.\n")
        piece.write_text(text.replace("The one you carry.", f"The one you carry, {number}."))
        running = start(studio)
        time.sleep(wait)
        running.send_signal(kill)
        running.wait(timeout=30)
        staging.mend(studio / "out", "desk")
        found = whole(studio / "out" / "desk")
        if found != old:
            assert f"The one you carry, {number}." in found[f"{EVENT}/proposal.html"].decode()
            assert found.keys() == old.keys()
            old = found
    assert sitegen(studio, "build").returncode == 0
    left = sorted(path.name for path in (studio / "out").iterdir())
    assert left == ["desk", "sealed"]


def test_a_swap_cut_between_its_renames_is_mended(run: Command, studio: Path) -> None:
    run("build")
    old = whole(studio / "out" / "desk")
    (studio / "out" / "desk").rename(studio / "out" / ".desk-old")
    (studio / "out" / ".desk-new").mkdir()
    done = run("build")
    assert done.returncode == 0
    assert "Nothing has changed" in done.stdout
    assert whole(studio / "out" / "desk") == old


def test_foreign_files_in_the_output_folder_stay(run: Command, studio: Path) -> None:
    (studio / "out").mkdir()
    (studio / "out" / "mine.txt").write_text("mine")
    run("build")
    piece = studio / "content" / "events" / EVENT / "01-hand-tied.md"
    piece.write_text(piece.read_text() + "\nOnce more.\n")
    run("build")
    assert (studio / "out" / "mine.txt").read_text() == "mine"


def test_an_event_that_went_goes_from_the_desk(run: Command, studio: Path) -> None:
    many(studio / "content", 1)
    run("build")
    gone = studio / "content" / "events" / "2031-09-13-copy-000"
    for path in gone.iterdir():
        path.unlink()
    gone.rmdir()
    assert run("build").returncode == 0
    assert not (studio / "out" / "desk" / gone.name).exists()
    assert gone.name not in (studio / "out" / "desk" / "index.html").read_text()


def test_a_full_disk_is_told_and_changes_nothing(studio: Path) -> None:
    assert sitegen(studio, "build").returncode == 0
    old = whole(studio / "out")
    piece = studio / "content" / "events" / EVENT / "01-hand-tied.md"
    piece.write_text(piece.read_text() + "\nOnce more.\n")

    def small_files() -> None:
        # The system refuses any file above this size, as a full disk would.
        signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
        resource.setrlimit(resource.RLIMIT_FSIZE, (20_000, 20_000))

    done = subprocess.run(
        [sys.executable, "-m", "sitegen", "build"],
        cwd=studio,
        env={**os.environ, "SITEGEN_TODAY": DAY, "PYTHONDONTWRITEBYTECODE": "1"},
        capture_output=True,
        text=True,
        preexec_fn=small_files,
        check=False,
        timeout=60,
    )
    assert done.returncode == 3
    assert "Traceback" not in done.stderr
    assert whole(studio / "out") == old


def test_a_folder_that_cannot_be_written_is_told(run: Command, studio: Path) -> None:
    (studio / "out").write_text("a file where the folder should be")
    done = run("build")
    assert done.returncode == 3
    assert "Traceback" not in done.stderr
    assert (studio / "out").read_text() == "a file where the folder should be"


def test_a_damaged_state_only_makes_the_build_slower(run: Command, studio: Path) -> None:
    run("build")
    old = whole(studio / "out")
    for path in (studio / ".sitegen" / "cache").glob("built-*.json"):
        path.write_text('{"version": 1, "events": [')
    assert run("build").returncode == 0
    assert whole(studio / "out") == old


def test_two_builds_at_once_both_end_well(studio: Path) -> None:
    both = [start(studio), start(studio)]
    assert [one.wait(timeout=60) for one in both] == [0, 0]
    assert (studio / "out" / "desk" / EVENT / "proposal.html").is_file()


def test_two_builds_of_two_events_at_once_lose_neither(studio: Path) -> None:
    many(studio / "content", 2)
    assert sitegen(studio, "build").returncode == 0
    names = [EVENT, "2031-09-13-copy-000", "2031-09-13-copy-001"]
    for name in names[1:]:
        piece = studio / "content" / "events" / name / "01-hand-tied.md"
        piece.write_text(piece.read_text() + "\nOnce more.\n")
    both = [start(studio, name) for name in names[1:]]
    assert [one.wait(timeout=60) for one in both] == [0, 0]
    for name in names:
        page = (studio / "out" / "desk" / name / "proposal.html").read_text()
        assert ("Once more." in page) == (name != EVENT)
