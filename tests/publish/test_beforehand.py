"""What is said and asked before a page goes out: starter words, a version history, a newer page that is there."""

import json
import shutil
from collections.abc import Callable
from itertools import count
from pathlib import Path

import pytest

from sitegen.publish import receipt as receipts
from sitegen.publish.receipt import Receipt
from tests.browser.sealing import EVENT, with_photos, without_pictures
from tests.running import sitegen, whole


def test_words_of_the_starter_stop_what_a_couple_would_get(tmp_path: Path) -> None:
    home = without_pictures(tmp_path)
    records = home / "content" / "events" / EVENT / "records"
    studio = home / "content" / "studio.md"
    text = studio.read_text("utf-8")
    front, _, _ = text.rpartition("---\n")
    studio.write_text(f"{front}---\nWrite your terms here, in plain words.\n", "utf-8")
    said = '"Write your terms here,"'
    for arguments in (
        ("send",),
        ("publish",),
        ("publish", "--dry-run"),
        ("approve", "--why", "on the phone"),
    ):
        done = sitegen(home, arguments[0], "millrace", *arguments[1:])
        assert done.returncode == 1, arguments
        assert said in done.stderr
        assert "--starter-words" in done.stderr
        assert not (home / "published").exists()
    shutil.rmtree(records, ignore_errors=True)

    done = sitegen(home, "publish", "millrace", "--starter-words")
    assert done.returncode == 0, done.stderr
    assert f"warning: the starter's own words would be taken for yours: {said}" in done.stderr
    # What was sent is what would be agreed, whatever stands there since.
    studio.write_text(text, "utf-8")
    done = sitegen(home, "approve", "millrace", "--why", "on the phone", "--revision", "1", "--yes")
    assert done.returncode == 1
    assert said in done.stderr
    assert sitegen(home, "send", "millrace").returncode == 0
    done = sitegen(home, "approve", "millrace", "--why", "on the phone", "--yes")
    assert done.returncode == 0, done.stderr


def test_a_page_newer_than_the_records_here_is_not_written_over_unseen(tmp_path: Path) -> None:
    home = without_pictures(tmp_path)
    event = home / "content" / "events" / EVENT
    assert sitegen(home, "publish", "millrace").returncode == 0
    shutil.copytree(event, tmp_path / "backup")
    (event / "event.md").write_text((event / "event.md").read_text() + "\nA word more.\n")
    assert sitegen(home, "publish", "millrace").returncode == 0
    shutil.rmtree(event)
    shutil.copytree(tmp_path / "backup", event)
    before = whole(home / "published")

    plan = sitegen(home, "publish", "millrace", "--dry-run")
    assert "shows revision 2, and the records here end with 1" in plan.stdout
    done = sitegen(home, "publish", "millrace")
    assert done.returncode == 3
    assert "older than what the couple see. Nothing was sent." in done.stderr
    assert whole(home / "published") == before
    done = sitegen(home, "publish", "millrace", "--take-over", "--json")
    assert done.returncode == 0, done.stderr
    assert any("shows revision 2" in note for note in json.loads(done.stdout)["notes"])


def test_everything_can_be_sent_as_other_files_under_the_same_link(tmp_path: Path) -> None:
    home = with_photos(tmp_path)
    assert sitegen(home, "publish", "millrace").returncode == 0
    links = [json.loads(sitegen(home, "link", "millrace", "--json").stdout)["link"]]
    before = {path.name: path.read_bytes() for path in (home / "published").rglob("*.bin")}
    page = next((home / "published").glob("*/index.html"))
    first = page.read_bytes()
    again = json.loads(sitegen(home, "publish", "millrace", "--fresh", "--json").stdout)
    assert (again["files"], again["revision"]) == (len(before) + 1, None)
    sent = {path.name for path in (home / "published").rglob("*.bin")} - before.keys()
    assert len(sent) == len(before) > 0, "none has the name it had"
    assert page.read_bytes() != first
    links.append(json.loads(sitegen(home, "link", "millrace", "--json").stdout)["link"])
    assert links[0] == links[1]
    # Once is once: what is published after it is only what changed, and the backup needs no new one.
    assert json.loads(sitegen(home, "publish", "millrace", "--json").stdout)["files"] == 0


def test_a_version_history_is_asked_about_once_before_the_first_upload(tmp_path: Path) -> None:
    home = without_pictures(tmp_path)
    (home / ".git").mkdir()
    done = sitegen(home, "publish", "millrace")
    assert done.returncode == 2
    assert "what it keeps, no withdrawal takes back. Nothing was sent." in done.stderr
    assert not (home / "published").exists()
    assert not (home / "content" / "events" / EVENT / "records").exists()
    assert sitegen(home, "publish", "millrace", "--history").returncode == 0
    done = sitegen(home, "publish", "millrace")
    assert done.returncode == 0, done.stderr
    assert "no withdrawal takes back" in done.stdout


@pytest.mark.parametrize("command", [("withdraw",), ("link", "--renew")])
def test_a_page_of_a_run_that_was_cut_off_before_its_receipt_comes_down(
    command: tuple[str, ...], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    home = without_pictures(tmp_path)
    assert sitegen(home, "publish", "millrace").returncode == 0
    with monkeypatch.context() as patch:
        patch.setattr(receipts, "save", cut_off_at_the_second())
        assert sitegen(home, "link", "millrace", "--renew").returncode == 130
    assert len(open_pages(home)) == 2, "the new page is there, and the old one still"
    done = sitegen(home, command[0], "millrace", *command[1:])
    assert done.returncode == 0, done.stderr
    assert len(open_pages(home)) == (0 if command[0] == "withdraw" else 1)


def test_a_cut_off_first_page_comes_down_when_its_link_is_renewed(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    home = without_pictures(tmp_path)
    with monkeypatch.context() as patch:
        patch.setattr(receipts, "save", cut_off_at_the_second())
        assert sitegen(home, "publish", "millrace").returncode == 130
    (first,) = open_pages(home)
    assert sitegen(home, "link", "millrace", "--renew").returncode == 0
    (second,) = open_pages(home)
    assert second != first


def cut_off_at_the_second() -> Callable[[Path, Receipt], None]:
    """Stop between the page's switch and the receipt that tells of it."""
    save, calls = receipts.save, count(1)

    def until(path: Path, receipt: Receipt) -> None:
        if next(calls) == 2:
            raise KeyboardInterrupt
        save(path, receipt)

    return until


def open_pages(home: Path) -> list[Path]:
    return [page for page in (home / "published").glob("*/index.html") if 'id="sealed"' in page.read_text()]


def test_no_page_goes_where_the_desk_is_given_out_with_it(tmp_path: Path) -> None:
    home = without_pictures(tmp_path)
    for folder in ("../out", "../out/sealed/site"):
        (home / "content" / "publish.yaml").write_text(f"folder: {folder}\n")
        done = sitegen(home, "publish", "millrace")
        assert done.returncode == 2
        assert "what you pay" in done.stderr
    assert not list((home / "out").glob("*.html"))


def test_the_page_of_an_event_whose_folder_is_gone_is_told_of_and_comes_down(tmp_path: Path) -> None:
    home = without_pictures(tmp_path)
    assert sitegen(home, "publish", "millrace").returncode == 0
    events = home / "content" / "events"
    (events / EVENT).rename(events / "2031-09-13-milldam")
    shutil.rmtree(events / "2031-09-13-milldam" / "records")
    assert f"is still up: sitegen withdraw {EVENT}" in sitegen(home, "publish", "milldam").stdout
    assert len(open_pages(home)) == 2
    assert sitegen(home, "withdraw", "millrace").returncode == 2, "so called is only what is named in full"
    assert sitegen(home, "withdraw", EVENT).returncode == 0
    assert len(open_pages(home)) == 1
    assert "still up" not in sitegen(home, "publish", "milldam").stdout


def test_a_link_renewed_while_the_host_is_away_says_so_and_the_next_publish_ends_it(tmp_path: Path) -> None:
    home = without_pictures(tmp_path)
    assert sitegen(home, "publish", "millrace").returncode == 0
    settings = home / "content" / "publish.yaml"
    settings.write_text("address: http://127.0.0.1:9/\n")
    done = sitegen(home, "link", "millrace", "--renew")
    assert done.returncode == 3
    assert "cannot be reached" in done.stderr
    assert "The key here has changed all the same" in done.stderr
    (old,) = open_pages(home)
    settings.unlink()
    assert "was taken down" in sitegen(home, "publish", "millrace").stdout
    assert old not in open_pages(home)
    assert len(open_pages(home)) == 1


def test_a_plan_cannot_be_made_fresh_and_tells_machines_what_people_read(tmp_path: Path) -> None:
    home = without_pictures(tmp_path)
    assert sitegen(home, "publish", "millrace", "--fresh", "--dry-run").returncode == 2
    (home / "published").mkdir()
    (home / "published" / "404.html").write_text("another's")
    plan = sitegen(home, "publish", "millrace", "--dry-run", "--json")
    assert any("404.html" in note for note in json.loads(plan.stdout)["notes"])


@pytest.mark.parametrize("arguments", [("keys", "import"), ("link",), ("publish",)])
def test_a_link_in_the_wrong_place_is_not_repeated_with_its_key(
    arguments: tuple[str, ...], tmp_path: Path
) -> None:
    home = without_pictures(tmp_path)
    link = "https://flowers.example/40m2081040m2081040m2081040/#c1000g40r40m30e209185gr38e1wjhf1"
    done = sitegen(home, *arguments, link, "--json", SITEGEN_PHRASE="six words that open nothing here")
    assert done.returncode in {2, 3}
    assert "c1000g40r" not in done.stdout + done.stderr


def test_an_endpoint_that_no_storage_has_is_said(tmp_path: Path) -> None:
    home = without_pictures(tmp_path)
    (home / "content" / "publish.yaml").write_text(
        "to: s3\naddress: https://flowers.example/\ns3: {bucket: flowers, endpoint: 'https://my_store.example'}\n"
    )
    done = sitegen(home, "publish", "millrace", SITEGEN_S3_KEY_ID="id", SITEGEN_S3_SECRET="secret")
    assert done.returncode == 2
    assert "my_store.example is no address of a storage" in done.stderr
