"""Publishing to a folder, seen through a real HTTPS server where there is one."""

import json
import shutil
import subprocess
from dataclasses import replace
from pathlib import Path

import pytest

from sitegen.publish import receipt as receipts
from sitegen.publish.fault import Fault, Stopped
from sitegen.publish.folder import FolderHost, kept_in_history
from sitegen.publish.plan import GRACE, Plan
from sitegen.publish.run import plan_only, publish
from sitegen.publish.site import SealedSite
from sitegen.publish.way import HERE_ONLY, Moved
from tests.publish.served import Web
from tests.publish.sites import (
    NOON,
    OTHER_PID,
    PID,
    SHARED,
    a_way,
    blob_name,
    files_in,
    folder_way,
    in_folder,
    make_site,
    opens,
    photo,
    publish_ok,
    view,
)

ONE, TWO = photo("one"), photo("two")


def test_a_first_publish_stands_and_says_that_it_is_here_only(tmp_path: Path) -> None:
    site = make_site("first", [ONE, TWO])
    done = publish_ok(site, folder_way(tmp_path))
    assert view(in_folder(tmp_path / "site")) == "first"
    assert (done.files, done.live, done.notes) == (6, False, (HERE_ONLY,))
    expected = {
        **SHARED,
        f"{PID}/index.html": site.index,
        **{f"{PID}/{name}": data for name, data in site.blobs.items()},
    }
    assert files_in(tmp_path / "site") == expected, "nothing else, no part of an upload"


def test_through_an_address_it_is_live(tmp_path: Path, web: Web) -> None:
    done = publish_ok(make_site("first", [ONE]), a_way(FolderHost(web.root), tmp_path, web.address))
    assert done.live
    assert done.page == f"{web.address.base}{PID}/"
    assert f"/{PID}/" in web.habits.asked, "the couple's own address was fetched"


def test_only_what_changed_travels(tmp_path: Path, web: Web) -> None:
    way = a_way(FolderHost(web.root), tmp_path, web.address)
    publish_ok(make_site("old", [ONE, TWO]), way)
    assert publish_ok(make_site("new", [ONE, TWO]), way).files == 1
    assert publish_ok(make_site("new", [ONE, photo("three")]), way).files == 2
    assert publish_ok(make_site("new", [ONE, photo("three")]), way).files == 0


def test_blobs_may_be_files(tmp_path: Path) -> None:
    site = make_site("first", [ONE])
    (tmp_path / "sealed").write_bytes(ONE)
    on_disk = SealedSite(PID, site.index, dict.fromkeys(site.blobs, tmp_path / "sealed"), site.site_files)
    publish_ok(on_disk, folder_way(tmp_path))
    assert view(in_folder(tmp_path / "site")) == "first"


def test_a_blob_file_that_is_gone_stops_before_anything(tmp_path: Path) -> None:
    site = make_site("first", [ONE])
    lost = SealedSite(PID, site.index, dict.fromkeys(site.blobs, tmp_path / "gone"), site.site_files)
    stopped = publish(lost, folder_way(tmp_path), opens)
    assert isinstance(stopped, Stopped)
    assert stopped.kind == "unread"
    assert not (tmp_path / "site").exists()


def test_a_page_that_does_not_open_never_goes_out(tmp_path: Path) -> None:
    stopped = publish(make_site("first"), folder_way(tmp_path), lambda *_: "the key does not fit")
    assert isinstance(stopped, Stopped)
    assert stopped.kind == "unopened"
    assert "the key does not fit" in stopped.sentence
    assert not (tmp_path / "site").exists()


def test_the_plan_alone_writes_nothing(tmp_path: Path) -> None:
    plan = plan_only(make_site("first", [ONE]), folder_way(tmp_path))
    assert isinstance(plan, Plan)
    assert plan.files == 5
    assert list(tmp_path.iterdir()) == []


def test_progress_counts_files_and_bytes_up_to_all_of_them(tmp_path: Path) -> None:
    seen: list[Moved] = []
    publish(make_site("first", [ONE, TWO]), folder_way(tmp_path), opens, seen.append)
    assert [moved.files_done for moved in seen] == sorted(moved.files_done for moved in seen)
    assert (seen[-1].files_done, seen[-1].bytes_done) == (seen[-1].files, seen[-1].bytes)
    assert seen[-1].bytes > len(ONE) + len(TWO)


def test_foreign_files_beside_ours_are_never_touched(tmp_path: Path) -> None:
    foreign = {
        "index.html": b"the studio's own site",
        "404.html": b"the studio's own page for lost readers",
        f"{PID}/notes.txt": b"x",
        f"{PID}/b/holiday.bin": b"x",
        f"{PID}/b/.other.part": b"x",
        f"{OTHER_PID}/index.html": b"another event",
        f"{OTHER_PID}/{next(iter(make_site('x', [ONE]).blobs))}": b"x",
    }
    for name, data in foreign.items():
        path = tmp_path / "site" / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(data)
    for day, word in enumerate(["one", "two", "three", "four"]):
        done = publish_ok(make_site(word, [photo(word)]), folder_way(tmp_path, NOON + day * GRACE))
        assert any(note.startswith("404.html") for note in done.notes)
    after = files_in(tmp_path / "site")
    assert foreign.items() <= after.items()
    assert view(in_folder(tmp_path / "site")) == "four"


def test_two_events_share_the_files_beside_them(tmp_path: Path) -> None:
    publish_ok(make_site("one"), folder_way(tmp_path))
    newer = {**SHARED, "404.html": b"<!doctype html><p>A newer page."}
    other = replace(folder_way(tmp_path), event="mill-race")
    done = publish_ok(make_site("two", pid=OTHER_PID, shared=newer), other)
    assert files_in(tmp_path / "site")["404.html"] == newer["404.html"], (
        "known as ours by the first event's receipt"
    )
    assert done.notes == (HERE_ONLY,)


def test_old_blobs_go_after_a_day_and_two_editions(tmp_path: Path) -> None:
    words = ["one", "two", "three"]
    for word in words:
        publish_ok(make_site(word, [photo(word)]), folder_way(tmp_path))
    folder = tmp_path / "site" / PID / "b"
    assert len(list(folder.iterdir())) == 3
    done = publish_ok(make_site("three", [photo("three")]), folder_way(tmp_path, NOON + GRACE))
    assert done.deleted == 1
    assert {path.name for path in folder.iterdir()} == {
        n.removeprefix("b/") for w in words[1:] for n in make_site(w, [photo(w)]).blobs
    }


def test_the_page_before_stays_whole_for_who_has_it_open(tmp_path: Path) -> None:
    old = make_site("old", [ONE])
    publish_ok(old, folder_way(tmp_path))
    publish_ok(make_site("new", [TWO]), folder_way(tmp_path, NOON + 9 * GRACE))
    read = in_folder(tmp_path / "site")
    assert opens(old.index, lambda name: read(f"{PID}/{name}")) is None


def test_parts_left_by_a_killed_upload_go_with_the_next_publish(tmp_path: Path) -> None:
    publish_ok(make_site("old", [ONE]), folder_way(tmp_path))
    left = tmp_path / "site" / PID / "b" / f".{blob_name(TWO).removeprefix('b/')}.part"
    left.write_bytes(b"half")
    publish_ok(make_site("new", [ONE]), folder_way(tmp_path))
    assert not left.exists()


def test_a_page_that_a_stranger_changed_stops_before_anything_is_sent(tmp_path: Path) -> None:
    publish_ok(make_site("old", [ONE]), folder_way(tmp_path))
    page = tmp_path / "site" / PID / "index.html"
    page.write_bytes(b"<!doctype html><script>steal()</script>")
    before = files_in(tmp_path / "site")
    stopped = publish(make_site("new", [TWO]), folder_way(tmp_path), opens)
    assert isinstance(stopped, Stopped)
    assert stopped.kind == "stranger"
    assert files_in(tmp_path / "site") == before
    plan = plan_only(make_site("new", [TWO]), folder_way(tmp_path))
    assert isinstance(plan, Plan)
    assert plan.notes == (stopped.sentence.removesuffix(" What readers see has not changed."),)
    publish_ok(make_site("new", [TWO]), folder_way(tmp_path), take_over=True)
    assert view(in_folder(tmp_path / "site")) == "new"


def test_a_stranger_who_comes_during_the_upload_is_met_before_the_switch(tmp_path: Path) -> None:
    publish_ok(make_site("old"), folder_way(tmp_path))
    page = tmp_path / "site" / PID / "index.html"

    def meddle(moved: Moved) -> None:
        if moved.path.endswith(".bin"):
            page.write_bytes(b"<!doctype html>theirs")

    stopped = publish(make_site("new", [TWO]), folder_way(tmp_path), opens, meddle)
    assert isinstance(stopped, Stopped)
    assert stopped.kind == "stranger"
    assert page.read_bytes() == b"<!doctype html>theirs"


def test_lost_receipts_are_said_and_can_be_taken_over(tmp_path: Path) -> None:
    way = folder_way(tmp_path)
    publish_ok(make_site("old", [ONE]), way)
    way.receipt.unlink()
    stopped = publish(make_site("new", [ONE]), way, opens)
    assert isinstance(stopped, Stopped)
    assert "receipts are lost" in stopped.sentence
    assert publish_ok(make_site("new", [ONE]), way, take_over=True).files == 1, (
        "the photo was checked, not sent"
    )


def test_recheck_mends_a_blob_that_rotted(tmp_path: Path) -> None:
    site = make_site("same", [ONE])
    publish_ok(site, folder_way(tmp_path))
    blob = next((tmp_path / "site" / PID / "b").iterdir())
    blob.write_bytes(bytes(len(ONE)))
    assert publish_ok(site, folder_way(tmp_path), recheck=True).files == 1
    assert blob.read_bytes() == ONE


def test_another_folder_or_link_is_told_of_the_first(tmp_path: Path) -> None:
    publish_ok(make_site("old"), folder_way(tmp_path))
    done = publish_ok(make_site("old", pid=OTHER_PID), folder_way(tmp_path))
    assert any("It can still be read at" in note for note in done.notes)


def test_only_one_publisher_at_a_time(tmp_path: Path) -> None:
    inner: list[object] = []

    def again(_: Moved) -> None:
        if not inner:
            inner.append(publish(make_site("second"), folder_way(tmp_path), opens))

    publish(make_site("first"), folder_way(tmp_path), opens, again)
    assert isinstance(inner[0], Stopped)
    assert inner[0].kind == "busy"
    assert view(in_folder(tmp_path / "site")) == "first"


def test_a_damaged_receipt_is_said_and_nothing_is_written(tmp_path: Path) -> None:
    way = folder_way(tmp_path)
    way.receipts.mkdir()
    for damage in (b"{", b"[]", b'{"format": 9}', b'{"format": 1, "standings": [1]}', b"\xff"):
        way.receipt.write_bytes(damage)
        stopped = publish(make_site("new"), way, opens)
        assert isinstance(stopped, Stopped)
        assert stopped.kind == "receipt"
    assert not (tmp_path / "site").exists()


@pytest.mark.parametrize(
    ("where", "value"),
    [
        (("pid",), "../x"),
        (("pid",), 5),
        (("place",), None),
        (("blobs",), {"b/../../x.bin": [1, "", None]}),
        (("blobs",), {next(iter(make_site("x", [ONE]).blobs)): [1, "", "yesterday"]}),
        (("editions", 0, 0), "x"),
        (("editions", 0, 1), 5),
        (("editions", 0, 2), ["../index.html"]),
        (("site",), [1]),
    ],
)
def test_a_receipt_that_somebody_edited_is_read_whole_or_not_at_all(
    where: tuple[str | int, ...], value: object, tmp_path: Path
) -> None:
    way = folder_way(tmp_path)
    publish_ok(make_site("old", [ONE]), way)
    kept = json.loads(way.receipt.read_bytes())
    spot = kept["standings"][0]
    for step in where[:-1]:
        spot = spot[step]
    spot[where[-1]] = value
    way.receipt.write_text(json.dumps(kept))
    with pytest.raises(Fault) as found:
        receipts.load(way.receipt)
    assert found.value.kind == "receipt"


def test_a_receipt_survives_being_written_and_read(tmp_path: Path) -> None:
    way = folder_way(tmp_path)
    publish_ok(make_site("old", [ONE]), way)
    publish_ok(make_site("new", [TWO]), way)
    kept = receipts.load(way.receipt)
    receipts.save(tmp_path / "copy.json", kept)
    assert receipts.load(tmp_path / "copy.json") == kept
    standing = kept.at(way.host.place, PID)
    assert len(standing.editions) == 2
    assert standing.pending == ""


def test_a_version_history_is_noticed(tmp_path: Path) -> None:
    assert not kept_in_history(tmp_path / "site")
    (tmp_path / ".git").mkdir()
    assert kept_in_history(tmp_path / "site")


@pytest.mark.skipif(shutil.which("git") is None, reason="no git to ask")
def test_a_version_history_that_ignores_the_folder_keeps_nothing_of_it(tmp_path: Path) -> None:
    subprocess.run(["git", "init", "--quiet", str(tmp_path)], check=True)
    assert kept_in_history(tmp_path / "site")
    (tmp_path / ".gitignore").write_text("/site/\n")
    assert not kept_in_history(tmp_path / "site")


@pytest.mark.parametrize(
    "name", ["b/../x.bin", "x.bin", "0123456789abcdefghjkmnpqrs.bin", "b/0123456789ABCDEFGHJKMNPQRS.bin"]
)
def test_a_name_that_sealing_does_not_make_is_our_own_mistake(name: str) -> None:
    with pytest.raises(ValueError, match="not a name"):
        SealedSite(PID, b"", {name: b""}, {})


def test_a_folder_name_that_sealing_does_not_make_is_our_own_mistake() -> None:
    with pytest.raises(ValueError, match="not the name"):
        SealedSite("../elsewhere", b"", {}, {})
