"""Two events of a week bought for as one: made on the desk, kept by every build, recorded by halves to the cent."""

import json
import shutil
from pathlib import Path
from typing import Any

import pytest

from tests.running import Command

MILL, WEIR = "2031-09-13-millrace", "2031-09-14-weir"
BOTH = ("order", MILL, WEIR, "--together")


@pytest.fixture
def two(studio: Path) -> Path:
    """The worked event, and another like it on the next day."""
    events = studio / "content" / "events"
    shutil.copytree(events / MILL, events / WEIR)
    change(studio, WEIR, "event: Millrace in September", "event: Weir in September")
    change(studio, WEIR, "date: 2031-09-13", "date: 2031-09-14")
    return studio


def change(studio: Path, event: str, old: str, new: str) -> None:
    path = studio / "content" / "events" / event / "event.md"
    text = path.read_text("utf-8")
    assert old in text
    path.write_text(text.replace(old, new), encoding="utf-8")


def agreed(run: Command) -> None:
    for event in (MILL, WEIR):
        done = run("approve", event, "--why", "on the phone", "--yes")
        assert done.returncode == 0, done.stderr


def figures(studio: Path, name: str) -> dict[str, Any]:
    found: dict[str, Any] = json.loads((studio / "out" / "desk" / name).read_text("utf-8"))
    return found


def own(studio: Path, event: str) -> dict[str, Any]:
    order: dict[str, Any] = figures(studio, f"{event}/figures.json")["order"]
    return order


def records(studio: Path, event: str) -> list[str]:
    return sorted(path.name for path in (studio / "content" / "events" / event / "records").glob("*placed*"))


def test_one_order_for_both_is_made_and_shared_out(run: Command, two: Path) -> None:
    assert run(*BOTH, "--json").returncode == 0
    page = (two / "out" / "desk" / "orders" / "2031-09-13.html").read_text("utf-8")
    assert 'class="draft"' in page
    assert run(*BOTH, "--placed", "--yes").returncode == 2
    assert records(two, MILL) == []
    agreed(run)
    done = run(*BOTH, "--json")
    assert json.loads(done.stdout)["together"].endswith("orders/2031-09-13.html")
    page = (two / "out" / "desk" / "orders" / "2031-09-13.html").read_text("utf-8")
    assert 'class="draft"' not in page
    assert "Whose what is" in page
    found = figures(two, "orders/2031-09-13.json")
    # Spray roses: 25 each with 10 % are 27.5, so 28 alone; both are 55, not 56.
    assert found["order"]["need"]["spray-rose-ivory"] == 55
    cents = [round(100 * float(one["cost"])) for one in found["events"]]
    assert sum(cents) == round(100 * float(found["order"]["cost"]))
    assert float(found["order"]["cost"]) < float(found["apart"])
    desk = (two / "out" / "desk" / "index.html").read_text("utf-8")
    assert 'href="orders/2031-09-13.html"' in desk
    assert len(list((two / "out" / "desk" / "orders").glob("*.csv"))) == len(found["order"]["deliveries"])


def test_builds_keep_it_and_make_it_again_with_its_events(run: Command, two: Path) -> None:
    agreed(run)
    assert run(*BOTH).returncode == 0
    folder = two / "out" / "desk" / "orders"
    before = {path.name: path.read_bytes() for path in folder.iterdir()}
    (two / "out" / "desk" / "index.html").unlink()
    assert run("build").returncode == 0
    assert {path.name: path.read_bytes() for path in folder.iterdir()} == before
    change(two, WEIR, "guests: 40", "swaps: [{from: olive, to: spray-rose-ivory}]")
    assert run("build", WEIR).returncode == 0
    after = figures(two, "orders/2031-09-13.json")["order"]["need"]
    assert after["olive"] == own(two, MILL)["need"]["olive"]
    change(two, WEIR, "date: 2031-09-14", "date: 2031-09-14\nclosed: cancelled")
    assert run("build").returncode == 0
    assert figures(two, "orders/2031-09-13.json")["order"]["need"] == after  # the last one that could be made
    shutil.rmtree(two / "content" / "events" / WEIR)
    assert run("build").returncode == 0
    assert not folder.exists()


def test_each_event_records_its_part_once(run: Command, two: Path) -> None:
    agreed(run)
    assert run(*BOTH).returncode == 0
    parts = {one["event"]: one["cost"] for one in figures(two, "orders/2031-09-13.json")["events"]}
    assert run(*BOTH, "--placed", "--yes").returncode == 0
    for event, cost in parts.items():
        assert records(two, event) == ["0003-placed.json"]
        order = own(two, event)
        assert (order["buy"], order["cancel"], order["cost"]) == ([], [], cost)
    page = (two / "out" / "desk" / "orders" / "2031-09-13.html").read_text("utf-8")
    assert "There is nothing to add and nothing to cancel." in page
    assert run(*BOTH, "--placed", "--yes").returncode == 0
    assert records(two, MILL) == records(two, WEIR) == ["0003-placed.json"]


def test_a_run_that_was_killed_between_two_records_is_brought_to_its_end(run: Command, two: Path) -> None:
    agreed(run)
    assert run(*BOTH, "--placed", "--yes").returncode == 0
    whole = own(two, WEIR)
    (two / "content" / "events" / WEIR / "records" / "0003-placed.json").unlink()
    done = run(*BOTH, "--placed", "--yes", "--today", "2031-06-20")
    assert done.returncode == 0, done.stderr
    assert records(two, MILL) == records(two, WEIR) == ["0003-placed.json"]
    assert own(two, WEIR) == whole


def test_what_was_placed_together_is_undone_together(run: Command, two: Path) -> None:
    agreed(run)
    assert run("order", MILL, "--placed", "--yes").returncode == 0
    assert run(*BOTH).returncode == 0
    before = [own(two, MILL), own(two, WEIR)]
    found = figures(two, "orders/2031-09-13.json")
    assert {one["to"] for one in found["passed"]} == {WEIR}
    page = (two / "out" / "desk" / "orders" / "2031-09-13.html").read_text("utf-8")
    assert (
        "Not bought again, as Weir in September takes over what Millrace in September has to spare:" in page
    )
    assert run(*BOTH, "--placed", "--yes").returncode == 0
    done = run("order", WEIR, "--placed", "--undo", "--yes")
    assert f"sitegen order {WEIR} {MILL} --placed --undo" in done.stderr
    assert own(two, WEIR)["cost"] != before[1]["cost"]
    assert run("order", WEIR, MILL, "--placed", "--undo", "--yes").returncode == 0
    assert [own(two, MILL), own(two, WEIR)] == before
    assert [len(records(two, event)) for event in (MILL, WEIR)] == [3, 2]  # and one of each says it was none


def test_what_cannot_be_bought_as_one_is_refused_with_its_reason(run: Command, two: Path) -> None:
    done = run("order", MILL, "--together")
    assert (done.returncode, "two events or more" in done.stderr) == (2, True)
    change(two, WEIR, "date: 2031-09-14", "date: 2031-09-30")
    done = run(*BOTH)
    assert done.returncode == 2
    assert f"2031-09-13-millrace is 2031-09-12, and the first for {WEIR} is 2031-09-20" in done.stderr
    change(two, WEIR, "date: 2031-09-30", "date: 2031-09-14\nclosed: declined")
    assert f"{WEIR} is declined" in run(*BOTH).stderr
