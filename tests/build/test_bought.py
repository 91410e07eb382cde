"""Purchases remembered between builds: the same answers, no search, and nothing believed that is damaged."""

import datetime as dt
import json
import subprocess
import sys
from pathlib import Path

import pytest

from sitegen.build import bought as remembering
from sitegen.build.bought import Ledger, buyer_of, open_ledger, save_ledger
from sitegen.order.buy import buy
from sitegen.order.market import Purchases
from tests.order.random_orders import Task, task


def kept(home: Path) -> Path:
    return home / "cache" / "orders" / "bought.json"


def asked(ledger: Ledger, seeds: range) -> list[Purchases]:
    buyer = buyer_of(ledger)
    return [buyer(*task(seed)) for seed in seeds]


@pytest.fixture
def searches(monkeypatch: pytest.MonkeyPatch) -> list[Task]:
    """Every question that was not answered from memory."""
    found: list[Task] = []

    def counted(*question: object) -> Purchases:
        found.append(question)  # type: ignore[arg-type]  # handed on as it came
        return buy(*question)  # type: ignore[arg-type]  # handed on as it came

    monkeypatch.setattr(remembering, "buy", counted)
    return found


def test_an_answer_is_remembered_whole(tmp_path: Path, searches: list[Task]) -> None:
    first = open_ledger(tmp_path)
    answers = asked(first, range(30))
    save_ledger(first)
    assert len(searches) == 30
    assert answers == [buy(*task(seed)) for seed in range(30)]
    assert asked(open_ledger(tmp_path), range(30)) == answers
    assert len(searches) == 30


def test_what_nobody_sells_is_remembered_too(tmp_path: Path) -> None:
    wants, _, sellers = task(1)
    for _turn in range(2):
        ledger = open_ledger(tmp_path)
        assert buyer_of(ledger)(wants, [], sellers).missing == tuple(want.thing for want in wants)
        save_ledger(ledger)


@pytest.mark.parametrize("harm", [b"", b"{", b'{"answers": {}}', b"\xff\xfe", b"[]"])
def test_a_damaged_memory_is_none(tmp_path: Path, searches: list[Task], harm: bytes) -> None:
    ledger = open_ledger(tmp_path)
    answers = asked(ledger, range(3))
    save_ledger(ledger)
    kept(tmp_path).write_bytes(harm)
    assert asked(open_ledger(tmp_path), range(3)) == answers
    assert len(searches) == 6


def test_a_number_that_was_changed_is_not_believed(tmp_path: Path, searches: list[Task]) -> None:
    ledger = open_ledger(tmp_path)
    answers = asked(ledger, range(1))
    save_ledger(ledger)
    written = json.loads(kept(tmp_path).read_bytes())
    next(iter(written["answers"].values()))[0][0][1] += 1
    kept(tmp_path).write_text(json.dumps(written))
    assert asked(open_ledger(tmp_path), range(1)) == answers
    assert len(searches) == 2


def test_another_program_asks_anew(searches: list[Task]) -> None:
    ledger = Ledger(program="one")
    asked(ledger, range(2))
    ledger.program = "other"
    asked(ledger, range(2))
    assert len(searches) == 4


def test_only_so_many_are_kept_and_those_asked_for_last(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(remembering, "_MOST", 3)
    ledger = open_ledger(tmp_path)
    asked(ledger, range(5))
    asked(ledger, range(1))
    save_ledger(ledger)
    assert list(open_ledger(tmp_path).answers) == list(ledger.answers)[-3:]


STUDIO = """---
studio: Test Studio
contact: {name: Una Test}
language: en-US
currency: USD
pricing: {markup: {fresh: 3, goods: 2}}
---
Terms.
"""
# Roses alone come to 20 at the farm, 22 at the barn; a minimum of 25 at both leaves it to the solver.
STEMS = """rose:
  name: Rose
  role: form
  colour: "#e6c3b8"
  offers: [{supplier: farm, bunch: 10, price: 20.00}, {supplier: barn, bunch: 10, price: 22.00}]
fern:
  name: Fern
  role: foliage
  colour: "#4f7046"
  offers: [{supplier: farm, bunch: 5, price: 6.00}, {supplier: barn, bunch: 5, price: 5.90}]
"""
SUPPLIERS = "farm: {name: A Farm, minimum: 27.00}\nbarn: {name: A Barn, minimum: 29.00}\n"
SHARED = {"studio.md": STUDIO, "stems.yaml": STEMS, "goods.yaml": "{}\n", "suppliers.yaml": SUPPLIERS}
PIECE = "---\npiece: Bowl\ngroup: Tables\nrecipe: {rose: 7, fern: 3}\n---\nWords.\n"


def write(home: Path) -> None:
    event = home / "content" / "events" / "2031-06-14-a-test"
    event.mkdir(parents=True)
    shared = home / "content"
    for name, text in SHARED.items():
        (shared / name).write_text(text)
    (event / "event.md").write_text("---\nevent: A test\nfor: Ada\ndate: 2031-06-14\n---\nNote.\n")
    (event / "01-bowl.md").write_text(PIECE)


BUILD = """
import datetime as dt, sys
from pathlib import Path
from sitegen.build.quick import mended
from sitegen.build.run import build
from sitegen.build.settings import Settings

home = Path(sys.argv[1])
settings = Settings(home / "content", home / "out", dt.date.fromisoformat(sys.argv[2]), "content")
assert build(mended(settings)).ok
print("highspy" in sys.modules)
"""


def test_a_new_day_solves_nothing_and_loads_no_solver(tmp_path: Path) -> None:
    write(tmp_path)
    order = tmp_path / "out" / "desk" / "2031-06-14-a-test" / "figures.json"
    said, figures = [], []
    for day in (dt.date(2031, 3, 1), dt.date(2031, 3, 2)):
        done = subprocess.run(
            [sys.executable, "-c", BUILD, str(tmp_path), str(day)], capture_output=True, text=True, check=True
        )
        said.append(done.stdout.strip())
        figures.append(json.loads(order.read_bytes())["order"])
    assert said == ["True", "False"]
    assert figures[0] == figures[1]
