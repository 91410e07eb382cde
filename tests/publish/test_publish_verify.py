"""Comparing what is live with the receipt, and taking it down."""

from dataclasses import replace
from pathlib import Path

import pytest

from sitegen.publish.fault import Stopped
from sitegen.publish.folder import FolderHost
from sitegen.publish.verify import Verified, verify
from sitegen.publish.way import HERE_ONLY, Moved
from sitegen.publish.withdraw import Withdrawn, withdraw
from tests.publish.hosts import failing
from tests.publish.served import Web
from tests.publish.sites import (
    NOTICE,
    OTHER_PID,
    PID,
    a_way,
    files_in,
    folder_way,
    in_folder,
    make_site,
    photo,
    publish_ok,
    view,
)

ONE, TWO = photo("one"), photo("two")


def verified(web: Web, home: Path) -> Verified:
    found = verify(PID, a_way(FolderHost(web.root), home, web.address))
    assert isinstance(found, Verified), found
    return found


def test_what_was_sent_is_what_is_live(tmp_path: Path, web: Web) -> None:
    publish_ok(make_site("new", [ONE, TWO]), a_way(FolderHost(web.root), tmp_path, web.address))
    found = verified(web, tmp_path)
    assert found.sound
    assert found.files == 3


@pytest.mark.parametrize("name", [f"{PID}/index.html", f"{PID}/{next(iter(make_site('x', [ONE]).blobs))}"])
def test_one_changed_bit_is_found(name: str, tmp_path: Path, web: Web) -> None:
    publish_ok(make_site("new", [ONE, TWO]), a_way(FolderHost(web.root), tmp_path, web.address))
    data = bytearray((web.root / name).read_bytes())
    data[len(data) // 2] ^= 1
    (web.root / name).write_bytes(bytes(data))
    found = verified(web, tmp_path)
    assert len(found.differences) == 1
    assert name.removesuffix("index.html") in found.differences[0]


def test_a_missing_photo_is_found(tmp_path: Path, web: Web) -> None:
    publish_ok(make_site("new", [ONE]), a_way(FolderHost(web.root), tmp_path, web.address))
    next((web.root / PID / "b").iterdir()).unlink()
    assert "does not give out" in verified(web, tmp_path).differences[0]


def test_verifying_changes_nothing_and_shows_progress(tmp_path: Path) -> None:
    publish_ok(make_site("new", [ONE]), folder_way(tmp_path))
    before = files_in(tmp_path)
    seen: list[Moved] = []
    found = verify(PID, folder_way(tmp_path), seen.append)
    assert isinstance(found, Verified)
    assert found.notes == (HERE_ONLY,)
    assert seen[-1].files_done == seen[-1].files == 2
    assert files_in(tmp_path) == before


def test_what_was_never_published_cannot_be_verified_or_withdrawn(tmp_path: Path) -> None:
    way = folder_way(tmp_path)
    for stopped in (verify(PID, way), withdraw(PID, NOTICE, way)):
        assert isinstance(stopped, Stopped)
        assert stopped.kind == "never"
    assert not (tmp_path / "site").exists()


def test_taken_down_it_is_gone_and_nothing_else_is(tmp_path: Path, web: Web) -> None:
    way = a_way(FolderHost(web.root), tmp_path, web.address)
    publish_ok(make_site("new", [ONE, TWO]), way)
    publish_ok(make_site("other", [ONE], pid=OTHER_PID), replace(way, event="mill-race"))
    (web.root / PID / "b" / "notes.txt").write_bytes(b"foreign")
    done = withdraw(PID, NOTICE, way)
    assert isinstance(done, Withdrawn)
    assert (done.deleted, done.still, done.notes) == (2, (), ())
    assert view(in_folder(web.root)) == "withdrawn"
    left = {path.name for path in (web.root / PID / "b").iterdir()}
    assert left == {"notes.txt"}
    assert view(in_folder(web.root), OTHER_PID) == "other"
    assert verified(web, tmp_path).sound, "the notice is what should be live now"


def test_what_still_answers_is_named(tmp_path: Path, web: Web) -> None:
    way = a_way(FolderHost(web.root), tmp_path, web.address)
    old = make_site("old")
    publish_ok(old, way)
    web.habits.stale[f"/{PID}/"] = old.index
    done = withdraw(PID, NOTICE, way)
    assert isinstance(done, Withdrawn)
    assert done.still == (f"{web.address.base}{PID}/",)


def test_a_host_that_keeps_deleted_photos_is_named(tmp_path: Path, web: Web) -> None:
    way = a_way(FolderHost(web.root), tmp_path, web.address)
    publish_ok(make_site("old", [ONE]), way)
    web.habits.fallback = True
    done = withdraw(PID, NOTICE, way)
    assert isinstance(done, Withdrawn)
    assert len(done.still) == 1
    assert done.still[0].endswith(".bin")


def test_an_address_that_cannot_be_asked_is_said_and_it_is_down_all_the_same(
    tmp_path: Path, web: Web
) -> None:
    way = a_way(FolderHost(web.root), tmp_path, web.address)
    publish_ok(make_site("old", [ONE]), way)
    web.habits.always = 503
    done = withdraw(PID, NOTICE, way)
    assert isinstance(done, Withdrawn)
    assert "could not be asked" in done.notes[0]
    assert view(in_folder(web.root)) == "withdrawn"


def test_a_strangers_page_is_taken_down_too(tmp_path: Path) -> None:
    publish_ok(make_site("old", [ONE]), folder_way(tmp_path))
    (tmp_path / "site" / PID / "index.html").write_bytes(b"<!doctype html>theirs")
    assert isinstance(withdraw(PID, NOTICE, folder_way(tmp_path)), Withdrawn)
    assert view(in_folder(tmp_path / "site")) == "withdrawn"


def test_after_it_was_taken_down_it_can_be_published_again(tmp_path: Path) -> None:
    site = make_site("back", [ONE])
    publish_ok(site, folder_way(tmp_path))
    withdraw(PID, NOTICE, folder_way(tmp_path))
    publish_ok(site, folder_way(tmp_path))
    assert view(in_folder(tmp_path / "site")) == "back"
    found = verify(PID, folder_way(tmp_path))
    assert isinstance(found, Verified)
    assert found.sound


def test_withdrawing_carries_on_after_a_fault_at_any_operation(tmp_path: Path) -> None:
    for at in range(40):
        home = tmp_path / str(at)
        publish_ok(make_site("old", [ONE, TWO]), folder_way(home))
        way = folder_way(home)
        host = failing(way.host, at, "denied", sticky=False)
        stopped = withdraw(PID, NOTICE, replace(way, host=host))
        if isinstance(stopped, Withdrawn) and not stopped.notes:
            assert at > 8
            return
        assert view(in_folder(home / "site")) in ("old", "withdrawn") or at > 4
        again = withdraw(PID, NOTICE, folder_way(home))
        assert isinstance(again, Withdrawn)
        assert view(in_folder(home / "site")) == "withdrawn"
        assert not list((home / "site" / PID / "b").iterdir())
    pytest.fail("no run was free of the fault")
