"""The third moment from the command line: bought, recorded, and afterwards only what to add or to cancel."""

import csv
import json
from pathlib import Path
from typing import Any

import pytest

from sitegen.cli import placing
from tests.running import Command

EVENT = "2031-09-13-millrace"


def approved(run: Command, revision: int = 1) -> None:
    done = run("approve", EVENT, "--revision", str(revision), "--why", "on the phone", "--yes")
    assert done.returncode == 0, done.stderr


def agreed(run: Command) -> None:
    done = run("approve", EVENT, "--why", "on the phone", "--yes")
    assert done.returncode == 0, done.stderr


def figures(studio: Path) -> dict[str, Any]:
    found: dict[str, Any] = json.loads((studio / "out" / "desk" / EVENT / "figures.json").read_text("utf-8"))
    order: dict[str, Any] = found["order"]
    return order


def page(studio: Path) -> str:
    return (studio / "out" / "desk" / EVENT / "order.html").read_text("utf-8")


def records(studio: Path) -> list[str]:
    return sorted(path.name for path in (studio / "content" / "events" / EVENT / "records").glob("0*.json"))


def change(studio: Path, name: str, old: str, new: str) -> None:
    path = studio / "content" / name
    text = path.read_text("utf-8")
    assert old in text
    path.write_text(text.replace(old, new), encoding="utf-8")


def test_only_what_was_agreed_is_placed(run: Command, studio: Path) -> None:
    done = run("order", EVENT, "--placed", "--yes", "--json")
    assert done.returncode == 2
    assert f"sitegen approve {EVENT}" in json.loads(done.stdout)["error"]
    assert records(studio) == []
    agreed(run)
    change(studio, f"events/{EVENT}/event.md", "guests: 40", "closed: cancelled")
    done = run("order", EVENT, "--placed", "--yes")
    assert (done.returncode, records(studio)) == (2, ["0001-revision.json", "0002-approval.json"])
    assert "cancelled" in done.stderr


def test_placing_twice_records_once(run: Command, studio: Path) -> None:
    agreed(run)
    assert run("order", EVENT).returncode == 0
    before = figures(studio)
    done = run("order", EVENT, "--placed", "--yes", "--json")
    (said,) = json.loads(done.stdout)["placed"]
    assert (done.returncode, said) == (
        0,
        {"event": EVENT, "record": "0003-placed.json", "bought": 10, "cancelled": 0},
    )
    after = figures(studio)
    assert (after["buy"], after["deliveries"], after["cancel"]) == ([], [], [])
    assert (after["cost"], after["need"], after["spare"]) == (before["cost"], before["need"], before["spare"])
    assert after["placed"] == [{"date": "2031-06-01", "buy": before["buy"]}]
    assert "Placed on June 1, 2031: 8 bunches, 2 packs, from" in page(studio)
    assert "There is nothing to add and nothing to cancel." in page(studio)
    assert not list((studio / "out" / "desk" / EVENT).glob("order-*.csv"))
    done = run("order", EVENT, "--placed", "--yes", "--today", "2031-07-01")
    assert (done.returncode, records(studio)[-1]) == (0, "0003-placed.json")
    assert "Nothing has changed since the order of 2031-06-01: nothing was recorded" in done.stdout
    assert f"No order-….csv is left for {EVENT}" in done.stdout


def test_it_asks_first_and_without_a_terminal_takes_its_name_for_the_answer(
    run: Command, studio: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    agreed(run)
    with monkeypatch.context() as at_a_terminal:
        at_a_terminal.setattr(placing, "ask", lambda _question: False)
        done = run("order", EVENT, "--placed")
    assert (done.returncode, len(records(studio))) == (2, 2)
    assert f"{EVENT}: 8 bunches and 2 packs bought, with deliveries" in done.stdout
    assert "nothing was recorded" in done.stderr
    assert run("order", EVENT, "--placed").returncode == 0
    assert records(studio)[-1] == "0003-placed.json"


def test_a_record_undoes_it(run: Command, studio: Path) -> None:
    agreed(run)
    assert run("order", EVENT, "--undo").returncode == 2
    done = run("order", EVENT, "--placed", "--undo", "--yes")
    assert (done.returncode, "there is nothing to undo" in done.stderr) == (2, True)
    assert run("order", EVENT).returncode == 0
    before = figures(studio)
    for number in (3, 5):
        assert run("order", EVENT, "--placed", "--yes").returncode == 0
        assert figures(studio)["buy"] == []
        assert run("order", EVENT, "--placed", "--undo").returncode == 2
        undo = ("order", EVENT, "--placed", "--undo", "--why", "wrong week", "--yes", "--json")
        (said,) = json.loads(run(*undo).stdout)["undone"]
        assert [said["undone"], said["record"]] == [
            f"000{number}-placed.json",
            f"000{number + 1}-unplaced.json",
        ]
        assert figures(studio) == before
    assert len(records(studio)) == 6
    desk = (studio / "out" / "desk" / EVENT / "index.html").read_text("utf-8")
    assert "it was not placed" in desk
    assert "wrong week" in desk


def test_a_count_that_changes_after_placing_adds_by_its_change_note(run: Command, studio: Path) -> None:
    agreed(run)
    assert run("order", EVENT, "--placed", "--yes").returncode == 0
    change(studio, f"events/{EVENT}/02-low-bowls.md", "usual: 5", "usual: 8")
    change(studio, "stems.yaml", "price: ", "price: 9")
    assert run("order", EVENT).returncode == 0
    assert figures(studio)["buy"] == []  # what was approved still stands
    assert run("send", EVENT).returncode == 0
    approved(run, 2)
    assert run("order", EVENT).returncode == 0
    # Eight bowls: dahlia 7 + 8 × 2/3, with 12.5 % 13.875, so 14, and 15 were bought; spray rose 5 + 32, with
    # 10 % 40.7, so 41, and 30 were bought: 11 more; olive 4 + 20, with 10 % 26.4, so 27, and 20 were bought.
    found = figures(studio)
    assert [(row["stem"], row["packs"] * int(row["pack"])) for row in found["buy"]] == [
        ("spray-rose-ivory", 20),
        ("olive", 10),
    ]
    assert {row["supplier"] for row in found["buy"]} == {"river-market"}
    assert found["deliveries"] == [{"supplier": "river-market", "cost": "0.00"}]
    text = (studio / "out" / "desk" / EVENT / "order-river-market.csv").read_text("utf-8")
    assert [row[-1] for row in csv.reader(text.splitlines())] == ["change", "add", "add"]
    assert "To add now: 3 bunches." in page(studio)
    assert run("order", EVENT, "--placed", "--yes", "--today", "2031-07-01").returncode == 0
    assert figures(studio)["buy"] == []
    assert "Changed on July 1, 2031: added 3 bunches, from River Market." in page(studio)
    approved(run, 1)
    assert run("order", EVENT).returncode == 0
    assert [(row["stem"], row["packs"]) for row in figures(studio)["cancel"]] == [
        ("spray-rose-ivory", 2),
        ("olive", 1),
    ]
