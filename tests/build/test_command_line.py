"""The commands as a person types them: what they write, what they say, and their exit codes."""

import json
import re
import shutil
from collections.abc import Callable
from pathlib import Path

from tests.running import Command, sitegen, whole

EVENT = "2031-09-13-millrace"


def test_a_build_gives_the_worked_figures(run: Command, studio: Path) -> None:
    done = run("build")
    assert done.returncode == 0, done.stderr
    made = json.loads((studio / "out" / "desk" / EVENT / "figures.json").read_text())
    worked = json.loads((Path(__file__).parent.parent / "golden" / "millrace" / "figures.json").read_text())
    assert {name: made[name] for name in worked} == worked
    assert {"pull", "deliveries", "hire", "days", "run", "packing"} <= made.keys()


def test_a_build_says_what_was_written_what_to_open_and_what_next(run_apart: Command) -> None:
    said = run_apart("build").stdout.splitlines()
    assert said[0].startswith("Wrote 1 event")
    assert any(line.startswith("Open") and "proposal.html" in line for line in said)
    assert said[-1].startswith("Next")


def test_a_second_build_changes_nothing(run: Command, studio: Path) -> None:
    run("build")
    before = {path: path.stat().st_mtime_ns for path in (studio / "out").rglob("*") if path.is_file()}
    assert "Nothing has changed" in run("build").stdout
    assert before == {path: path.stat().st_mtime_ns for path in (studio / "out").rglob("*") if path.is_file()}


def test_a_page_somebody_changed_is_written_again(run: Command, studio: Path) -> None:
    run("build")
    page = studio / "out" / "desk" / EVENT / "proposal.html"
    wanted = page.read_bytes()
    page.write_text("mine")
    run("build")
    assert page.read_bytes() == wanted


def test_two_builds_give_the_same_bytes(run_apart: Command, studio: Path) -> None:
    run_apart("build", PYTHONHASHSEED="1")
    first = whole(studio / "out")
    run_apart("build", "--out", "other", PYTHONHASHSEED="2", LC_ALL="C", TZ="Pacific/Kiritimati")
    assert whole(studio / "other") == first


def test_an_event_is_any_part_of_its_name(run: Command) -> None:
    assert run("build", "mill").returncode == 0
    unknown = run("build", "milrace")
    assert unknown.returncode == 2
    assert f'did you mean "{EVENT}"?' in unknown.stderr or EVENT in unknown.stderr


def test_a_name_that_several_have_is_refused(run: Command, studio: Path) -> None:
    copy = studio / "content" / "events" / "2031-09-20-millbrook"
    copy.mkdir()
    for path in (studio / "content" / "events" / EVENT).iterdir():
        (copy / path.name).write_text(path.read_text().replace("date: 2031-09-13", "date: 2031-09-20"))
    both = run("build", "2031")
    assert both.returncode == 2
    assert EVENT in both.stderr
    assert "2031-09-20-millbrook" in both.stderr
    assert run("build", "race").returncode == 0


def test_octobers_typo_does_not_hold_up_september(run: Command, studio: Path) -> None:
    other = studio / "content" / "events" / "2031-10-01-orchard"
    other.mkdir()
    (other / "event.md").write_text("---\nevent: Orchard\nfor: Two\ndaet: 2031-10-01\n---\n")
    assert run("build").returncode == 1
    assert run("build", "millrace").returncode == 0
    assert (studio / "out" / "desk" / EVENT / "proposal.html").is_file()


def test_building_one_event_keeps_the_pages_of_the_others(run: Command, studio: Path) -> None:
    other = studio / "content" / "events" / "2031-10-04-orchard"
    other.mkdir()
    (other / "event.md").write_text("---\nevent: Orchard\nfor: Two\ndate: 2031-10-04\n---\n")
    (other / "01-jug.md").write_text("---\npiece: Jug\ngroup: Bar\nrecipe: {olive: 5}\n---\n")
    run("build")
    before = whole(studio / "out" / "desk" / "2031-10-04-orchard")
    (other / "01-jug.md").write_text("---\npiece: Jug\ngroup: Bar\nrecipe: {olive: 500}\n---\n")
    assert run("build", "millrace").returncode == 0
    assert whole(studio / "out" / "desk" / "2031-10-04-orchard") == before
    assert "Orchard" in (studio / "out" / "desk" / "index.html").read_text()
    run("build")
    assert whole(studio / "out" / "desk" / "2031-10-04-orchard") != before


def test_an_error_writes_nothing_and_the_old_output_stays(run: Command, studio: Path) -> None:
    run("build")
    before = whole(studio / "out")
    piece = studio / "content" / "events" / EVENT / "01-hand-tied.md"
    piece.write_text(piece.read_text().replace("minutes: 35", "minuets: 35"))
    done = run("build")
    assert done.returncode == 1
    assert "01-hand-tied.md:7:1: error:" in done.stderr
    assert done.stderr.rstrip().endswith("Nothing was written.")
    assert whole(studio / "out") == before


def test_a_first_build_with_an_error_leaves_no_output(run: Command, studio: Path) -> None:
    piece = studio / "content" / "events" / EVENT / "01-hand-tied.md"
    piece.write_text(piece.read_text().replace("minutes: 35", "minutes: 3,5"))
    assert run("build").returncode == 1
    assert not (studio / "out").exists()


def test_check_writes_nothing(run: Command, studio: Path) -> None:
    before = whole(studio)
    done = run("check")
    assert done.returncode == 0, done.stderr
    assert whole(studio) == before


def test_check_of_one_event_tells_of_it_alone(run: Command, studio: Path) -> None:
    other = studio / "content" / "events" / "2031-10-04-other"
    shutil.copytree(studio / "content" / "events" / EVENT, other)
    piece = other / "01-hand-tied.md"
    piece.write_text(piece.read_text().replace("olive: 4", "olvie: 4"))
    assert (run("check").returncode, run("check", "other").returncode) == (1, 1)
    done = run("check", "millrace")
    assert (done.returncode, done.stderr) == (0, "")
    assert "Read 1 event" in done.stdout


def test_check_reports_every_problem_of_every_file_at_once(run: Command, studio: Path) -> None:
    stems = studio / "content" / "stems.yaml"
    stems.write_text(stems.read_text().replace("price: 14.50", "price: 14,50"))
    piece = studio / "content" / "events" / EVENT / "01-hand-tied.md"
    piece.write_text(piece.read_text().replace("olive: 4", "olvie: 4").replace("minutes: 35", "minuets: 35"))
    said = run("check").stderr
    assert all(code in said for code in ("[value-unreadable]", "[stem-unknown]", "[key-unknown]"))
    assert "3 errors in 2 files" in said


def test_json_answers_for_machines(run: Command, studio: Path) -> None:
    assert json.loads(run("build", "--json").stdout)["made"] == [EVENT]
    piece = studio / "content" / "events" / EVENT / "01-hand-tied.md"
    piece.write_text(piece.read_text().replace("minutes: 35", "minuets: 35"))
    found = json.loads(run("check", "--json").stdout)
    assert found["ok"] is False
    assert [(one["code"], one["line"]) for one in found["problems"]] == [("key-unknown", 7)]


def test_one_file_carries_its_pictures(like_demo: Callable[[Path], Path], tmp_path: Path) -> None:
    demo = like_demo(tmp_path)
    done = sitegen(demo, "build", "pinnock", "--one-file", "--today", "2026-11-25")
    assert done.returncode == 0, done.stderr
    page = (demo / "out" / "desk" / "2027-05-08-pinnock-street" / "proposal-one-file.html").read_text()
    assert "data:image/" in page
    assert "../pictures" not in page
    assert "http://" not in page.replace("http://www.w3.org", "")


def test_a_page_to_mail_is_kept_up_by_later_builds(run: Command, studio: Path) -> None:
    run("build", "millrace", "--one-file")
    page = studio / "out" / "desk" / EVENT / "proposal-one-file.html"
    first = page.read_text()
    assert "Nothing has changed" in run("build").stdout
    piece = studio / "content" / "events" / EVENT / "01-hand-tied.md"
    piece.write_text(piece.read_text() + "\nOnce more, with feeling.\n")
    run("build")
    assert "Once more, with feeling." in page.read_text()
    assert page.read_text() != first


def test_one_file_asks_which(run: Command) -> None:
    assert run("build", "--one-file").returncode == 2


def test_why_names_the_place_of_each_figure(run: Command) -> None:
    said = run("why", "mill", "hand").stdout
    assert "content/stems.yaml:" in said
    assert "content/events/2031-09-13-millrace/01-hand-tied.md:" in said
    assert "120.00  each" in said
    short = run("why", "mill", "hand", "--answers", "ribbon=short").stdout
    assert "118.00  each" in short
    assert run("why", "mill", "hand", "--answers", "ribbon=shrot").returncode == 2
    assert run("why", "mill", "bouquet").returncode == 2


def test_new_begins_a_studio_that_builds(tmp_path: Path) -> None:
    assert sitegen(tmp_path, "new", "2032-03-06-first").returncode == 0
    done = sitegen(tmp_path, "build")
    assert done.returncode == 0
    assert set(re.findall(r"\[([a-z-]+)\]", done.stderr)) == {"starter-words"}, (
        "nothing else is to be said of it"
    )
    assert sitegen(tmp_path, "new", "2032-03-06-first").returncode == 2


def test_wrong_usage_is_told_in_a_sentence(run_apart: Command) -> None:
    for arguments in (("build", "--content", "nowhere"), ("build", "--today", "soon"), ("frob",), ()):
        done = run_apart(*arguments)
        assert done.returncode == 2
        assert "Traceback" not in done.stderr


def test_past_events_and_missed_lead_days_never_fail(run: Command, studio: Path) -> None:
    for day in ("2031-09-12", "2031-09-13", "2035-01-01"):
        done = run("build", "--today", day)
        assert done.returncode == 0, done.stderr
        stage = json.loads((studio / "out" / "desk" / EVENT / "figures.json").read_text())["stage"]
        assert stage == ("past" if day > "2031-09-13" else "draft")


def test_an_event_that_was_not_named_is_made_again_where_its_pages_are_lost(
    run: Command, studio: Path
) -> None:
    copy = studio / "content" / "events" / "2031-09-13-second"
    shutil.copytree(studio / "content" / "events" / EVENT, copy)
    run("build")
    shutil.rmtree(studio / ".sitegen" / "cache")
    (copy / "02-low-bowls.md").touch()
    assert run("build", "millrace").returncode == 0
    assert (studio / "out" / "desk" / copy.name / "proposal.html").is_file()
    (studio / "out" / "desk" / copy.name / "order.html").unlink()
    assert run("build", "millrace").returncode == 0
    assert (studio / "out" / "desk" / copy.name / "order.html").is_file()


def test_usage_and_faults_answer_in_json_too(run: Command) -> None:
    assert json.loads(run("build", "--json", "nope").stdout)["ok"] is False
    assert json.loads(run("build", "--json", "--content", "zz").stdout)["ok"] is False
    assert run("build", "--out", "content/events").returncode == 2
    assert run("build", "--today", "2031-W01-1").returncode == 2
