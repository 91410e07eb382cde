"""What other suppliers would cost, from the command line: compared, and nothing written."""

import json
from pathlib import Path
from typing import Any

import pytest

from tests.running import Command, whole

EVENT = "2031-09-13-millrace"


@pytest.fixture
def compared(run: Command) -> Any:
    def compare(*arguments: str) -> dict[str, Any]:
        done = run("order", EVENT, *arguments, "--json")
        assert done.returncode == 0, done.stderr
        (found,) = json.loads(done.stdout)["instead"]
        return dict(found)

    return compare


def test_without_a_supplier_the_rest_is_compared(run: Command, compared: Any) -> None:
    # Long Acre sells nothing of the order at its least cost, which is 163.25 (worked by hand in tests/order).
    found = compared("--without", "long-acre")
    assert (found["cost"], found["instead"], found["more"], found["moved"]) == (
        "163.25",
        "163.25",
        "0.00",
        [],
    )
    assert "the same" in run("order", EVENT, "--without", "long-acre").stdout


def test_only_some_are_asked_and_what_they_do_not_sell_comes_from_elsewhere(
    run: Command, compared: Any
) -> None:
    found = compared("--only", "long")
    assert found["suppliers"] == ["long-acre"]
    assert found["missing"] == []
    assert {name for thing in found["elsewhere"] for name in thing.values()} >= {"silk", "pin"}
    assert float(found["more"]) > 0
    assert {name["to"] for name in found["moved"]} == {"Long Acre Growers"}
    said = run("order", EVENT, "--only", "long").stdout
    assert f"{found['instead']}, {found['more']} more" in said
    assert "River Market → Long Acre Growers" in said


def test_what_nobody_else_sells_is_named(run: Command, compared: Any) -> None:
    found = compared("--without", "thread-box")
    assert found["instead"] is None
    assert found["missing"] == [{"good": "silk"}, {"good": "pin"}]
    said = run("order", EVENT, "--without", "thread-box").stdout
    assert "It cannot be bought so: in Sep nobody else sells" in said
    assert "To buy so" not in said
    done = run("order", EVENT, "--only", "thread-box", "--without", "thread-box")
    assert (done.returncode, "which is meant?" in done.stderr) == (2, True)


def test_nothing_is_written(run: Command, studio: Path) -> None:
    assert run("build").returncode == 0
    before = whole(studio / "out")
    assert run("order", EVENT, "--without", "long-acre").returncode == 0
    assert whole(studio / "out") == before


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (("--only", "nobody"), "no supplier is called"),
        (("--without", "long-acre,river-market,thread-box"), "no supplier is left"),
        (("--only", "long-acre", "--placed"), "only compare"),
    ],
)
def test_wrong_usage_is_told(run: Command, arguments: tuple[str, ...], said: str) -> None:
    done = run("order", EVENT, *arguments)
    assert done.returncode == 2
    assert said in done.stderr
