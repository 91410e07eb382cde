"""What `sitegen new` begins with: that it builds at once, on any day, and leaves alone what is there."""

import datetime as dt
import shutil
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from sitegen.check.event import check_event
from sitegen.check.shared import check_shared
from sitegen.load.tree import scan
from sitegen.start import Starter, copied_theme, starter, write
from sitegen.theme import find_theme, themes_beside
from tests.messages.telling import findings_in

DEMO = Path(__file__).parents[2] / "content"
TODAY = dt.date(2030, 1, 2)
FILES = ("studio.md", "stems.yaml", "goods.yaml", "suppliers.yaml")
UNWRITTEN = {"starter-words"}
MONTHS = [f"2031-{month:02}-28-fern-hollow" for month in range(1, 13)]


def begin(home: Path, event: str) -> Starter:
    begun = starter(home / "content", event, TODAY)
    assert begun.refusal == ""
    write(home / "content", begun.files)
    return begun


def said_of(home: Path) -> set[str]:
    return {finding.code for finding in findings_in(home, TODAY)}


def names(begun: Starter, event: str) -> list[str]:
    return [name.removeprefix(f"events/{event}/") for name in begun.files]


@pytest.mark.parametrize("event", MONTHS)
def test_a_new_studio_has_no_problem_whatever_the_day(event: str, tmp_path: Path) -> None:
    begun = begin(tmp_path, event)
    assert names(begun, event) == [*FILES, "event.md", "01-bouquet.md", "02-tables.md"]
    assert said_of(tmp_path) == UNWRITTEN


@given(day=st.dates(dt.date(2030, 1, 10), dt.date(2199, 12, 31)))
@settings(max_examples=30, deadline=None)
def test_a_new_event_reads_on_any_day(day: dt.date, tmp_path_factory: pytest.TempPathFactory) -> None:
    home = tmp_path_factory.mktemp("any")
    begin(home, f"{day}-x")
    assert said_of(home) == UNWRITTEN


@pytest.mark.parametrize("event", MONTHS)
def test_an_event_in_her_studio_takes_stems_of_hers_in_season(event: str, tmp_path: Path) -> None:
    shutil.copytree(DEMO, tmp_path / "content", ignore=shutil.ignore_patterns("events"))
    begun = begin(tmp_path, event)
    assert names(begun, event) == ["event.md", "01-bouquet.md", "02-tables.md"]
    assert begun.noted == ()
    tree = scan(tmp_path / "content", "content")
    shared = check_shared(tree).shared
    assert shared is not None
    found = check_event(tree.events[0], shared)
    assert {problem.code for problem in found.problems} == UNWRITTEN
    assert found.folder is not None
    for piece in found.folder.pieces:
        roles = [shared.stems[name].role for name in piece.piece.recipe]
        assert roles[0] in {"form", "mass"}
        assert roles[-1] == "foliage"
        assert len(roles) == 3
        assert all(shared.stems[name].offer_on(int(event[5:7])) for name in piece.piece.recipe)
    # A starter is small, so a supplier's minimum may not be reached; and on some weekdays her suppliers do not
    # come, or a day falls on a closed one. Nothing else is said.
    said = {finding.code for finding in findings_in(tmp_path, TODAY)}
    assert said <= {"order-below-minimum", "delivery-never", "order-day-moved", *UNWRITTEN}


def test_the_same_folder_gives_the_same_starter(tmp_path: Path) -> None:
    assert starter(DEMO, MONTHS[3], TODAY) == starter(DEMO, MONTHS[3], TODAY)
    assert starter(tmp_path, MONTHS[3], TODAY) == starter(tmp_path / "not-there", MONTHS[3], TODAY)


def test_every_line_of_a_new_studio_is_explained_or_stands_alone(tmp_path: Path) -> None:
    for name, text in starter(tmp_path, MONTHS[0], TODAY).files.items():
        assert text.count("#") >= 2, name
        assert "$" not in text
        assert max(map(len, text.splitlines())) <= 120


@pytest.mark.parametrize(
    ("event", "said"),
    [
        ("fern-hollow", "does not begin with the day of the event: write it as 2031-06-12-fern-hollow"),
        ("", "write it as 2031-06-12-fern-hollow"),
        ("../x", "write it as 2031-06-12-x"),
        ("/", "write it as 2031-06-12-fern-hollow"),
        ("/etc/passwd", "write it as 2031-06-12-etc-passwd"),
        ("2031-06-14", "use letters, digits and hyphens, such as 2031-06-14-fern-hollow"),
        ("2031-06-14-", "such as 2031-06-14-fern-hollow"),
        ("2031-06-14-../../x", "such as 2031-06-14-x"),
        ("2031-06-14-a/b", "such as 2031-06-14-a-b"),
        ("2031-06-14-a\\b", "such as 2031-06-14-a-b"),
        ("2031-06-14-.", "such as 2031-06-14-fern-hollow"),
        ("2031-06-14-a.b", "such as 2031-06-14-a-b"),
        ("2031-06-14-<b>x</b>", "such as 2031-06-14-b-x-b"),
        ("2031-06-14-a\n", "such as 2031-06-14-a"),
        ("2031-06-14-a\x1b[31m", "such as 2031-06-14-a-31m"),
        ("2031-06-14-\udcff", "such as 2031-06-14-fern-hollow"),
        ("2031-06-14-" + "a" * 300, "use letters, digits and hyphens"),
        ("2031-02-30-fern-hollow", '"2031-02-30" is not in the calendar'),
        ("1031-02-20-fern-hollow", "write a year from"),
    ],
)
def test_a_name_that_cannot_be_a_folder_is_refused(event: str, said: str, tmp_path: Path) -> None:
    begun = starter(tmp_path, event, TODAY)
    assert said in begun.refusal
    assert begun.refusal.isprintable()
    assert begun.files == {}


def test_the_example_in_a_refusal_is_not_refused(tmp_path: Path) -> None:
    refusal = starter(tmp_path, "../Fern & Hollow!", TODAY).refusal
    assert starter(tmp_path, refusal.split()[-1], TODAY).refusal == ""


def test_a_folder_that_is_there_is_refused(tmp_path: Path) -> None:
    begin(tmp_path, MONTHS[0])
    for same in (MONTHS[0], MONTHS[0].upper()):
        again = starter(tmp_path / "content", same, TODAY)
        assert again.refusal == f"content/events/{MONTHS[0]} is there already: choose another name"
        assert again.files == {}


def test_what_is_no_folder_is_refused(tmp_path: Path) -> None:
    (tmp_path / "content").write_text("words", encoding="utf-8")
    assert "content is not a folder" in starter(tmp_path / "content", MONTHS[0], TODAY).refusal
    (tmp_path / "other").mkdir()
    (tmp_path / "other/events").write_text("words", encoding="utf-8")
    assert "events is not a folder" in starter(tmp_path / "other", MONTHS[0], TODAY).refusal
    (tmp_path / "third").mkdir()
    (tmp_path / "third/events").symlink_to(tmp_path)
    assert "events is a link" in starter(tmp_path / "third", MONTHS[0], TODAY).refusal


def test_nothing_is_ever_overwritten(tmp_path: Path) -> None:
    begun = begin(tmp_path, MONTHS[0])
    mine = tmp_path / "content/studio.md"
    mine.write_text("mine", encoding="utf-8")
    with pytest.raises(FileExistsError):
        write(tmp_path / "content", begun.files)
    assert mine.read_text(encoding="utf-8") == "mine"


def test_a_studio_that_has_begun_gets_an_event_alone(tmp_path: Path) -> None:
    begin(tmp_path, MONTHS[0])
    assert names(begin(tmp_path, MONTHS[1]), MONTHS[1]) == ["event.md", "01-bouquet.md", "02-tables.md"]


def test_lists_that_cannot_be_read_are_named_in_the_piece(tmp_path: Path) -> None:
    begin(tmp_path, MONTHS[0])
    (tmp_path / "content/stems.yaml").write_text("rose: {name: [a}\n", encoding="utf-8")
    begun = starter(tmp_path / "content", MONTHS[1], TODAY)
    assert names(begun, MONTHS[1]) == ["event.md", "01-bouquet.md"]
    assert [problem.code for problem in begun.noted] == ["yaml-syntax"]
    text = begun.files[f"events/{MONTHS[1]}/01-bouquet.md"]
    assert "# Your lists could not be read: content/stems.yaml:1:14: a list in [ ] is never closed." in text


def test_a_catalogue_with_nothing_in_season_is_named_in_the_piece(tmp_path: Path) -> None:
    begin(tmp_path, MONTHS[0])
    path = tmp_path / "content/stems.yaml"
    text = path.read_text(encoding="utf-8").replace("      bunch:", "      months: May-Oct\n      bunch:")
    path.write_text(text, encoding="utf-8")
    begun = begin(tmp_path, MONTHS[1])
    assert begun.noted == ()
    assert "No stem in stems.yaml has an offer in Feb." in begun.files[f"events/{MONTHS[1]}/01-bouquet.md"]
    codes = [finding.code for finding in findings_in(tmp_path, TODAY)]
    assert "recipe-missing" in codes


@given(
    name=st.text(st.characters(exclude_categories=["Cs", "Cc"]), min_size=1, max_size=80),
    stem=st.from_regex(r"[a-zé][\w.-]{0,20}", fullmatch=True),
)
@settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.filter_too_much])
def test_names_of_her_stems_cannot_break_a_starter(
    name: str, stem: str, tmp_path_factory: pytest.TempPathFactory
) -> None:
    home = tmp_path_factory.mktemp("names")
    begin(home, MONTHS[0])
    quoted = "'" + name.replace("'", "''") + "'"
    stems = home / "content/stems.yaml"
    text = (
        stems.read_text(encoding="utf-8")
        .replace("rose-white:", f"{stem}:")
        .replace("name: Rose, white ", f"name: {quoted} ")
    )
    stems.write_text(text, encoding="utf-8")
    begun = starter(home / "content", MONTHS[1], TODAY)
    if not begun.noted:
        shutil.rmtree(home / "content/events")
        write(home / "content", begun.files)
        assert said_of(home) == UNWRITTEN


def test_markup_in_a_slug_never_reaches_a_file(tmp_path: Path) -> None:
    begun = starter(tmp_path, "2031-06-14-évian-β2", TODAY)
    assert "event: Évian Β2" in begun.files["events/2031-06-14-évian-β2/event.md"]


def test_a_copied_theme_stands_in_for_the_one_it_was_copied_from(tmp_path: Path) -> None:
    content = tmp_path / "content"
    content.mkdir()
    copied = copied_theme(content, "recipe-box")
    write(tmp_path, copied.files)
    style = tmp_path / "themes" / "recipe-box" / "recipe-box.css"
    style.write_text(style.read_text("utf-8") + "i{color:red}", "utf-8")
    found, problems = find_theme("recipe-box", themes_beside(content))
    assert problems == []
    assert found is not None
    assert found.style.endswith("i{color:red}")
    assert "is there already" in copied_theme(content, "recipe-box").refusal
    assert "name one of market-day, north-window, recipe-box" in copied_theme(content, "common").refusal
