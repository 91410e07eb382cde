"""Hire pieces over several events: what is left is right on every page, however few of them are made anew."""

import datetime as dt
import re
import shutil
from pathlib import Path

import pytest

from sitegen.build.quick import Outcome, survey
from sitegen.build.run import build
from sitegen.build.settings import Settings

TODAY = dt.date(2031, 3, 1)
BASE = Path(__file__).parents[1] / "messages" / "base" / "content"


@pytest.fixture
def studio(tmp_path: Path) -> Path:
    """Three events on 14, 15 and 21 June; five cups are owned."""
    content = tmp_path / "content"
    shutil.copytree(BASE, content)
    goods = content / "goods.yaml"
    goods.write_text(goods.read_text("utf-8").replace("mouth: 3 in", "mouth: 3 in, owned: 5"), "utf-8")
    first = content / "events" / "2031-06-14-base"
    for day in (15, 21):
        other = content / "events" / f"2031-06-{day}-other"
        shutil.copytree(first, other)
        text = (other / "event.md").read_text("utf-8")
        (other / "event.md").write_text(
            text.replace("06-14", f"06-{day}").replace("A test", f"Test {day}"), "utf-8"
        )
    for folder in (content / "events").iterdir():
        cups(folder, 2)
    return tmp_path


def cups(folder: Path, n: int) -> None:
    piece = folder / "01-bouquet.md"
    text = re.sub(r"  cup: \d+\n", "", piece.read_text("utf-8"))
    piece.write_text(text.replace("goods:\n", f"goods:\n  cup: {n}\n"), "utf-8")


def built(home: Path, *events: str) -> Outcome:
    settings = Settings(home / "content", home / "out", TODAY, "content", events=events)
    return build(survey(settings))


def shelf(home: Path, day: int) -> str:
    (page,) = (home / "out" / "desk").glob(f"2031-06-{day}-*/order.html")
    text = page.read_text("utf-8")
    assert "<!--shelf" not in text
    found = re.search(r"[^>·]*on the shelf[^<]*|\d+ more than you own[^<]*", text)
    assert found
    return found[0].strip()


def test_every_page_counts_the_others(studio: Path) -> None:
    outcome = built(studio)
    assert outcome.ok
    assert [shelf(studio, day) for day in (14, 15, 21)] == [
        "1 left on the shelf, 2 out for Test 15",
        "1 left on the shelf, 2 out for A test",
        "3 left on the shelf",
    ]
    assert survey(Settings(studio / "content", studio / "out", TODAY, "content")).nothing_to_do


def test_a_change_in_one_event_reaches_the_page_of_the_other(studio: Path) -> None:
    built(studio)
    cups(studio / "content" / "events" / "2031-06-15-other", 3)
    outcome = built(studio)
    assert set(outcome.made) == {"2031-06-14-base", "2031-06-15-other"}
    assert [shelf(studio, day) for day in (14, 15)] == [
        "none left on the shelf, 3 out for Test 15",
        "none left on the shelf, 2 out for A test",
    ]


def test_too_few_are_told_in_both_events_and_no_longer_once_there_are_enough(studio: Path) -> None:
    built(studio)
    cups(studio / "content" / "events" / "2031-06-15-other", 4)
    outcome = built(studio)
    assert [one.code for one in outcome.findings] == ["hire-short", "hire-short"]
    assert shelf(studio, 14) == "1 more than you own, 4 out for Test 15"
    for name in ("2031-06-14-base", "2031-06-15-other"):
        assert "are owned" in (studio / "out" / "desk" / name / "index.html").read_text("utf-8")
    cups(studio / "content" / "events" / "2031-06-15-other", 1)
    assert built(studio).findings == ()
    assert shelf(studio, 14) == "2 left on the shelf, 1 out for Test 15"
    page = (studio / "out" / "desk" / "2031-06-14-base" / "index.html").read_text("utf-8")
    assert "are owned" not in page


def test_an_event_that_is_gone_or_cancelled_has_nothing_out(studio: Path) -> None:
    built(studio)
    event = studio / "content" / "events" / "2031-06-15-other" / "event.md"
    event.write_text(event.read_text("utf-8").replace("date:", "closed: cancelled\ndate:"), "utf-8")
    built(studio)
    assert shelf(studio, 14) == "3 left on the shelf"
    shutil.rmtree(event.parent)
    built(studio)
    assert shelf(studio, 14) == "3 left on the shelf"


def test_a_build_of_one_event_leaves_the_others_to_the_next(studio: Path) -> None:
    built(studio)
    cups(studio / "content" / "events" / "2031-06-15-other", 3)
    assert built(studio, "06-15").made == ("2031-06-15-other",)
    assert shelf(studio, 15) == "none left on the shelf, 2 out for A test"
    assert shelf(studio, 14) == "1 left on the shelf, 2 out for Test 15"
    assert built(studio).made == ("2031-06-14-base",)
    assert shelf(studio, 14) == "none left on the shelf, 3 out for Test 15"
