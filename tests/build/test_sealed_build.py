"""What a build seals: every live event, anew when something changed, the same bytes from the same content."""

import json
import shutil
import stat
from collections.abc import Callable
from pathlib import Path

import pytest

from sitegen.seal.base32 import encode
from sitegen.seal.keys import Secrets, choose_link
from sitegen.seal.link import fragment
from sitegen.seal.opening import Opened, open_page, open_photo
from sitegen.seal.store import Store, find
from tests.running import Command, sitegen, whole

EVENT = "2031-09-13-millrace"
SITE = {"404.html", "_headers", ".nojekyll"}


def key(folder: Path, event: str = EVENT) -> Secrets:
    found = find(Store(folder / ".sitegen" / "keys"), event)
    assert isinstance(found, Secrets)
    return found


def carried(index: bytes) -> str:
    """The sealed text that a page carries."""
    return index.decode().split('id="sealed">', 1)[1].split("<", 1)[0]


def opened(folder: Path, event: str = EVENT) -> Opened:
    own = key(folder, event)
    index = (folder / "out" / "sealed" / encode(own.pid) / "index.html").read_bytes()
    found = open_page(carried(index), choose_link(own))
    assert isinstance(found, Opened), found
    return found


def edit(folder: Path, old: str, new: str, name: str = "event.md") -> None:
    path = folder / "content" / "events" / EVENT / name
    text = path.read_text()
    assert old in text
    path.write_text(text.replace(old, new))


def set_in_event(folder: Path, line: str) -> None:
    path = folder / "content" / "events" / EVENT / "event.md"
    path.write_text(path.read_text().replace("---\n", f"---\n{line}\n", 1))


def test_every_event_of_the_demo_opens_with_its_key_and_holds_what_its_page_says(demo: Path) -> None:
    events = sorted(path.name for path in (demo / "content" / "events").iterdir())
    assert len(events) == 3
    for event in events:
        found = opened(demo, event)
        page = (demo / "out" / "desk" / event / "proposal.html").read_text()
        assert found.revision == 0
        assert found.built == "2026-11-25"
        assert f"<title>{found.texts['title']}</title>" in page
        assert found.texts["figures"] in page
        assert found.texts["body"].count("<article") == page.count("<article")
        assert "<script" not in found.texts["body"]
        assert "<style" not in found.texts["body"]
        assert "style=" not in found.texts["body"]
        assert " src=" not in found.texts["body"]


def test_every_picture_that_a_page_names_opens_and_no_other_is_there(demo: Path) -> None:
    event = "2027-06-19-quillet-farm"
    found = opened(demo, event)
    folder = demo / "out" / "sealed" / encode(key(demo, event).pid)
    assert found.photos
    assert {entry.file for entry in found.photos.values()} == {
        path.relative_to(folder).as_posix() for path in folder.glob("b/*")
    }
    for place, entry in found.photos.items():
        assert f'data-photo="{place}"' in found.texts["body"]
        photo = open_photo(found.keys, place, entry, (folder / entry.file).read_bytes())
        assert isinstance(photo, bytes)
        assert photo[:4] == b"RIFF"
        assert photo[8:12] == b"WEBP"
        assert b"EXIF" not in photo[:64]
    assert found.texts["body"].count("data-photo=") >= len(found.photos)


def test_the_pages_around_say_nothing_of_whom_they_are_for(demo: Path) -> None:
    for name, data in whole(demo / "out" / "sealed").items():
        text = data.decode() if not name.endswith(".bin") else ""
        shell = text.replace(carried(data), "") if name.endswith("index.html") else text
        for word in (
            "Ines",
            "Jude",
            "Quillet",
            "Underhedge",
            "maren",
            "555-0",
            "Lane Cottage",
            "Ranunculus",
        ):
            assert word not in shell, (name, word)


def test_no_page_of_the_desk_holds_an_id_or_a_secret(demo: Path) -> None:
    events = [path.name for path in (demo / "content" / "events").iterdir()]
    hidden = [text for one in (key(demo, event) for event in events) for text in (
        encode(one.pid), encode(one.choose), one.pid.hex(), one.choose.hex(), fragment(choose_link(one)))]  # fmt: skip
    for name, data in whole(demo / "out" / "desk").items():
        assert not [text for text in hidden if text.encode() in data], name


def test_keys_are_for_their_owner_alone(run: Command, studio: Path) -> None:
    run("build")
    folder = studio / ".sitegen" / "keys"
    assert stat.S_IMODE(folder.stat().st_mode) == 0o700
    assert [stat.S_IMODE(path.stat().st_mode) for path in folder.iterdir()] == [0o600]


def test_the_same_content_and_key_give_the_same_bytes(run_apart: Command, studio: Path) -> None:
    run_apart("build", PYTHONHASHSEED="1", TZ="Pacific/Auckland")
    first = whole(studio / "out" / "sealed")
    shutil.rmtree(studio / "out")
    run_apart("build", PYTHONHASHSEED="2", TZ="America/Lima", LC_ALL="C")
    assert whole(studio / "out" / "sealed") == first
    assert set(first) > SITE


def test_one_word_changes_one_file_of_the_demo(like_demo: Callable[[Path], Path], tmp_path: Path) -> None:
    like_demo(tmp_path)
    sitegen(tmp_path, "build")
    before = whole(tmp_path / "out" / "sealed")
    path = tmp_path / "content" / "events" / "2027-06-19-quillet-farm" / "event.md"
    path.write_text(path.read_text() + "\nOne word more.\n")
    sitegen(tmp_path, "build")
    after = whole(tmp_path / "out" / "sealed")
    assert before.keys() == after.keys()
    changed = [name for name in after if after[name] != before[name]]
    assert changed == [f"{encode(key(tmp_path, '2027-06-19-quillet-farm').pid)}/index.html"]


def test_a_closed_event_is_not_sealed_and_goes(run: Command, studio: Path) -> None:
    run("build")
    assert len(whole(studio / "out" / "sealed")) == 4
    set_in_event(studio, "closed: declined")
    run("build")
    assert set(whole(studio / "out" / "sealed")) == SITE
    assert "Nothing has changed" in run("build").stdout


def test_a_lost_or_touched_sealed_page_is_written_again(run: Command, studio: Path) -> None:
    run("build")
    first = whole(studio / "out" / "sealed")
    page = studio / "out" / "sealed" / encode(key(studio).pid) / "index.html"
    page.write_text("changed")
    run("build")
    assert whole(studio / "out" / "sealed") == first
    (studio / "out" / "sealed" / "404.html").unlink()
    run("build")
    assert whole(studio / "out" / "sealed") == first
    assert "Nothing has changed" in run("build").stdout


def test_a_swap_of_the_sealed_folder_cut_in_two_is_mended(run: Command, studio: Path) -> None:
    run("build")
    first = whole(studio / "out" / "sealed")
    (studio / "out" / "sealed").rename(studio / "out" / ".sealed-old")
    assert "Nothing has changed" in run("build").stdout
    assert whole(studio / "out" / "sealed") == first


def test_a_page_that_is_not_sealed_says_so_and_asks_not_to_be_found(run: Command, studio: Path) -> None:
    set_in_event(studio, "sealed: no")
    done = run("build")
    assert done.returncode == 0
    assert "sealed-no" in done.stderr
    assert "Whoever gets hold of its address reads it" in done.stderr
    page = (studio / "out" / "sealed" / encode(key(studio).pid) / "index.html").read_text()
    assert '<meta name="robots" content="noindex' in page
    assert 'id="sealed"' not in page
    assert 'src="../' not in page
    assert "sealed-no" in run("build").stderr


def test_a_damaged_key_seals_nothing_and_is_left_as_it_is(run: Command, studio: Path) -> None:
    run("build")
    path = studio / ".sitegen" / "keys" / f"{EVENT}.json"
    path.write_text("{")
    done = run("build")
    assert done.returncode == 0
    assert "key-unusable" in done.stderr
    assert path.read_text() == "{"
    assert set(whole(studio / "out" / "sealed")) == SITE


def test_a_lost_key_of_a_published_event_is_said_and_never_made_anew(run: Command, studio: Path) -> None:
    run("build")
    (studio / ".sitegen" / "keys" / f"{EVENT}.json").unlink()
    standing = {"place": "p", "pid": "0" * 26, "address": "", "editions": [[1, "a", []]], "blobs": {}, "site": {},
                "pending": "", "withdrawn": "", "seen": False}  # fmt: skip
    receipts = studio / ".sitegen" / "receipts"
    receipts.mkdir()
    (receipts / f"{EVENT}.json").write_text(json.dumps({"format": 1, "standings": [standing]}))
    done = run("build")
    assert done.returncode == 0
    assert "key-lost" in done.stderr
    assert "keys import FILE" in done.stderr
    assert not (studio / ".sitegen" / "keys" / f"{EVENT}.json").exists()


def test_a_renamed_folder_is_given_no_other_link_unseen(run: Command, studio: Path) -> None:
    """What was sent keeps its link: "rename the folder" is what a moved date asks for."""
    run("build")
    own, keys, renamed = key(studio), studio / ".sitegen" / "keys", EVENT.replace("09-13", "09-20")
    assert run("send", EVENT).returncode == 0
    (studio / "content" / "events" / EVENT).rename(studio / "content" / "events" / renamed)
    done = run("build")
    assert done.returncode == 0
    assert "key-left" in done.stderr
    assert f"rename {EVENT}.json in .sitegen/keys" in done.stderr
    assert not (keys / f"{renamed}.json").exists()
    (keys / f"{EVENT}.json").rename(keys / f"{renamed}.json")
    assert "key-left" not in run("build").stderr
    assert opened(studio, renamed).revision == 1
    assert key(studio, renamed) == own


@pytest.mark.slow
def test_what_is_too_large_to_be_sealed_is_an_error_and_nothing_is_written(
    run: Command, studio: Path
) -> None:
    words = "Roses and more roses, all in a row, and never enough of them. " * 310
    first = (studio / "content" / "events" / EVENT / "01-hand-tied.md").read_text()
    head = first.split("---", 2)[1]
    for number in range(60):
        path = studio / "content" / "events" / EVENT / f"{number + 10}-much-{number}.md"
        path.write_text(f"---{head}---\n{words}\n")
    done = run("build")
    assert done.returncode == 1
    assert "seal-large" in done.stderr
    assert not (studio / "out" / "sealed").exists()
