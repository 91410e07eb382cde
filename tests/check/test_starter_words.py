"""Words of the starter that still stand: found wherever it wrote them, and nowhere else."""

import datetime as dt
from pathlib import Path

import pytest

from sitegen.check.starter_words import STARTER, left_in
from sitegen.start import starter, write
from tests.messages.telling import findings_in

TODAY = dt.date(2030, 1, 2)
EVENT = "2031-06-14-fern-hollow"
DEMO = Path(__file__).parents[2] / "content"


@pytest.fixture
def begun(tmp_path: Path) -> Path:
    write(tmp_path / "content", starter(tmp_path / "content", EVENT, TODAY).files)
    return tmp_path


def mend(home: Path, name: str, old: str, new: str) -> None:
    path = home / "content" / name
    text = path.read_text("utf-8")
    assert old in text
    path.write_text(text.replace(old, new), "utf-8")


def test_each_file_of_a_new_studio_says_what_is_still_to_be_written(begun: Path) -> None:
    found = findings_in(begun, TODAY)
    assert {one.code for one in found} == {"starter-words"}
    assert {one.severity for one in found} == {"warning"}
    assert [(one.path.rsplit("/", 1)[-1], one.line, len(one.related)) for one in found] == [
        ("01-bouquet.md", 37, 0),
        ("02-tables.md", 17, 0),
        ("event.md", 5, 1),
        ("studio.md", 5, 4),
    ]


def test_once_all_is_written_nothing_is_said(begun: Path) -> None:
    for old, new in (
        ("Your Studio Name", "Reed and Thistle"),
        ("Your Name", "Ida Marsh"),
        ("you@yourstudio.example", "ida@reed.example"),
        ("555-0100", "555-0134"),
        ("Write your terms here, in plain words: how long", "Our terms in plain words: how long"),
    ):
        mend(begun, "studio.md", old, new)
    event = f"events/{EVENT}"
    mend(begun, f"{event}/event.md", "First and second name", "Ada and Ben")
    mend(begun, f"{event}/event.md", "Here you write to them: what", "Dear both, what")
    mend(begun, f"{event}/01-bouquet.md", "Words for the couple: how", "How")
    mend(begun, f"{event}/02-tables.md", "Words for the couple about the tables.", "Low and loose.")
    assert findings_in(begun, TODAY) == ()


def test_a_text_that_was_only_wrapped_anew_is_still_the_starters(begun: Path) -> None:
    mend(begun, "studio.md", "Write your terms here, in", "Ours.\n\nWRITE  your terms\n  here, in")
    places = [one.related for one in findings_in(begun, TODAY) if one.path.endswith("studio.md")]
    assert any('"WRITE your terms here,"' in line for line in places[0])


@pytest.mark.parametrize(
    "honest",
    [
        "Words for the couple's vows are lettered on the ribbon.",
        "You may write your terms here and there.",
        "Call us: 555-01000, or 1-555-0100 from abroad.",
        "Your Name stands on the card.",
    ],
)
def test_honest_words_are_left_alone(honest: str) -> None:
    assert left_in([honest]) == ()


def test_nothing_in_the_demo_is_taken_for_the_starters() -> None:
    assert left_in(path.read_text("utf-8") for path in DEMO.rglob("*.md")) == ()


def test_every_text_of_the_starter_is_known() -> None:
    bodies = [path.read_text("utf-8").split("\n---\n", 1)[1] for path in sorted(STARTER.glob("*.md"))]
    assert len(bodies) == 5
    assert all(left_in([body]) for body in bodies)
