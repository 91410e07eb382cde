"""A fault at each operation, once and for good: readers see a whole site, the answer says what to do, a rerun carries on."""

import errno
import os
from collections.abc import Callable
from pathlib import Path
from typing import get_args

import pytest

from sitegen.publish.fault import _SENTENCES, Fault, Kind, Stopped, os_fault, stopped
from sitegen.publish.folder import FolderHost
from sitegen.publish.run import Published, publish
from sitegen.values import atomic
from tests.publish.hosts import failing, noting
from tests.publish.sites import (
    PID,
    Waits,
    a_way,
    files_in,
    folder_way,
    in_folder,
    make_site,
    opens,
    photo,
    publish_ok,
    view,
    waited,
)

OLD, NEW = make_site("old", [photo("one")]), make_site("new", [photo("two"), photo("three")])
MOST = 60


@pytest.mark.parametrize("sticky", [False, True])
@pytest.mark.parametrize("kind", ["again", "denied", "full", "refused", "absent", "unreachable"])
def test_a_fault_at_any_operation(
    kind: Kind, sticky: bool, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(os, "fsync", lambda _: None)  # hundreds of publishes; power cuts are tried elsewhere
    for at in range(MOST):
        home = tmp_path / str(at)
        publish_ok(OLD, folder_way(home))
        host = failing(FolderHost(home / "site"), at, kind, sticky=sticky)
        way = a_way(host, home)
        result = publish(NEW, way, opens)
        word = view(in_folder(home / "site"))
        assert word in ("old", "new")
        if kind == "again" and not sticky:
            assert isinstance(result, Published), "one passing fault is overcome"
        else:
            assert sum(waited(way)) == (7 if kind == "again" and isinstance(result, Stopped) else 0)
        if isinstance(result, Stopped):
            assert result.kind == kind
            assert word == "old" or "What readers see has not changed" not in result.sentence
        if len(host.done) <= at:
            assert at > 10
            return
        publish_ok(NEW, folder_way(home))
        assert view(in_folder(home / "site")) == "new"
    pytest.fail("no run was free of the fault")


def fails_once_at(at: int, code: int) -> tuple[Callable[[int], None], list[int]]:
    counted: list[int] = []

    def flush(handle: int) -> None:
        counted.append(handle)
        if len(counted) == at:
            raise OSError(code, os.strerror(code))

    return flush, counted


@pytest.mark.parametrize(
    ("code", "kind"),
    [
        (errno.ENOSPC, "full"),
        (errno.EDQUOT, "full"),
        (errno.EROFS, "denied"),
        (errno.EACCES, "denied"),
        (errno.EIO, None),
        (errno.ETIMEDOUT, None),
    ],
)
def test_a_disk_that_fails_once_at_any_flush(
    code: int, kind: Kind | None, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Receipts are written on the same disk: faults there stop with a sentence too."""
    for at in range(1, MOST):
        home = tmp_path / str(at)
        publish_ok(OLD, folder_way(home))
        with monkeypatch.context() as patch:
            flush, counted = fails_once_at(at, code)
            patch.setattr(os, "fsync", flush)
            result = publish(NEW, folder_way(home), opens)
        if isinstance(result, Stopped):
            assert result.kind == (kind or "again")
        assert view(in_folder(home / "site")) in ("old", "new")
        publish_ok(NEW, folder_way(home))
        assert view(in_folder(home / "site")) == "new"
        if len(counted) < at:
            return
    pytest.fail("no run was free of the fault")


def test_a_truly_full_disk(tmp_path: Path) -> None:
    """The system's own full device stands where the page's part would be written: a real ENOSPC."""
    publish_ok(OLD, folder_way(tmp_path))
    (tmp_path / "site" / PID / ".index.html.part").symlink_to("/dev/full")
    result = publish(NEW, folder_way(tmp_path), opens)
    assert isinstance(result, Stopped)
    assert result.kind == "full"
    assert "it carries on where it stopped" in result.sentence
    assert view(in_folder(tmp_path / "site")) == "old"


def test_a_short_read_is_read_again(tmp_path: Path) -> None:
    short = [True]

    class Short(FolderHost):
        def read(self, path: str) -> bytes | None:
            data = super().read(path)
            return data[:-1] if data and path.endswith(".bin") and short and short.pop() else data

    way = a_way(Short(tmp_path / "site"), tmp_path)
    assert isinstance(publish(NEW, way, opens), Published)
    assert waited(way) == [1]


def test_a_host_that_stores_other_bytes_never_gets_the_page(tmp_path: Path) -> None:
    class Lossy(FolderHost):
        def put_new(self, path: str, data: bytes) -> None:
            super().put_new(path, data[:-1] if path.endswith(".bin") else data)

    result = publish(NEW, a_way(Lossy(tmp_path / "site"), tmp_path), opens)
    assert isinstance(result, Stopped)
    assert "came back other than it was sent" in result.sentence
    assert view(in_folder(tmp_path / "site")) is None


def test_nothing_waits_longer_than_it_must(tmp_path: Path) -> None:
    host = noting(FolderHost(tmp_path / "site"))
    way = a_way(host, tmp_path)
    publish_ok(OLD, way)
    assert way.wait == Waits()
    assert len(host.done) < 40


def test_a_flush_that_fails_leaves_the_file_as_it_was(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    atomic.put(tmp_path / "file", b"old")
    monkeypatch.setattr(os, "fsync", fails_once_at(1, errno.EIO)[0])
    with pytest.raises(OSError, match=os.strerror(errno.EIO)):
        atomic.put(tmp_path / "file", b"new")
    assert files_in(tmp_path)["file"] == b"old"


def test_every_kind_has_a_sentence_for_people() -> None:
    assert set(_SENTENCES) == set(get_args(Kind))
    for kind in get_args(Kind):
        said = stopped(Fault(kind, "sftp://florist@files.flowers.example:22/site", "index.html")).sentence
        assert said.endswith(".")
        assert "{" not in said
        assert not any(word in said for word in ("None", "Errno", "Exception", "Fault", "kind"))


def test_a_strange_error_of_the_system_is_a_refusal_with_its_reason() -> None:
    assert (
        os_fault(OSError(errno.ENAMETOOLONG, "File name too long"), "p", "x").detail
        == "x (File name too long)"
    )
