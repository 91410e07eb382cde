"""What is over, declined or cancelled keeps its last order, whatever the market and the days do."""

import json
import shutil
from pathlib import Path
from typing import Any

import pytest

from sitegen.order import buy as buying
from tests.running import Command

EVENT = "2031-09-13-millrace"
PAST = ("build", "--today", "2031-10-01")


def order(studio: Path) -> dict[str, Any]:
    found: dict[str, Any] = json.loads((studio / "out" / "desk" / EVENT / "figures.json").read_text("utf-8"))
    bought: dict[str, Any] = found["order"]
    return bought


def change(studio: Path, name: str, old: str, new: str) -> None:
    path = studio / "content" / name
    text = path.read_text("utf-8")
    assert old in text
    path.write_text(text.replace(old, new), encoding="utf-8")


def agreed(run: Command) -> None:
    assert run("approve", EVENT, "--why", "on the phone", "--yes").returncode == 0


def test_a_past_event_keeps_the_order_it_had(
    run: Command, studio: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    agreed(run)
    assert run("build").returncode == 0
    before = order(studio)
    change(studio, "stems.yaml", "bunch: 10, price: ", "bunch: 15, price: 9")
    monkeypatch.setattr(buying, "searched", None)  # nothing is solved for it
    assert run(*PAST).returncode == 0
    assert order(studio) == before
    monkeypatch.undo()
    shutil.rmtree(studio / ".sitegen" / "cache" / "orders")
    (studio / "out" / "desk" / EVENT / "figures.json").unlink()
    assert run(*PAST).returncode == 0
    assert order(studio)["cost"] != before["cost"]  # what is lost is solved once more, at the prices of today


def test_a_need_that_was_put_right_afterwards_is_ordered_anew(run: Command, studio: Path) -> None:
    agreed(run)
    assert run("build").returncode == 0
    change(studio, "stems.yaml", "loss: 12.5%", "loss: 50%")
    assert run(*PAST).returncode == 0
    assert order(studio)["need"]["dahlia-apricot"] == 16  # 10⅓ and half of it are 15.5


def test_a_declined_event_has_one_order_on_all_days(run: Command, studio: Path) -> None:
    change(studio, f"events/{EVENT}/event.md", "guests: 40", "closed: declined")
    found = []
    for day in ("2031-06-01", "2031-09-08", "2031-10-01"):
        assert run("build", "--today", day).returncode == 0
        found.append(order(studio))
    assert found[0] == found[1] == found[2]
