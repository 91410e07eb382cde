"""Cut off anywhere, a publish shows readers the old site or the new one, each whole.

The operations of the disk, or of the SFTP session, are recorded; every prefix of them is played into a copy of the
old site, also with the last write torn in the middle, and read as a couple would.
"""

import shutil
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import paramiko
import pytest

from sitegen.model.publish import Sftp
from sitegen.publish.credentials import SftpLogin
from sitegen.publish.folder import FolderHost
from sitegen.publish.host import Host
from sitegen.publish.plan import GRACE
from sitegen.publish.sftp import SftpHost
from sitegen.publish.withdraw import withdraw
from sitegen.values import atomic
from tests.publish.hosts import Memory
from tests.publish.sftp_rig import PASSWORD, USER, Rig
from tests.publish.sites import (
    NOON,
    NOTICE,
    PID,
    a_way,
    folder_way,
    in_folder,
    make_site,
    opens,
    photo,
    publish_ok,
    view,
)

OLD = make_site("old", [photo("one"), photo("two")])
NEW = make_site("new", [photo("two"), photo("three"), photo("four")])


@dataclass(frozen=True)
class Operation:
    """A write of *data*, a rename to *target*, or (neither) a removal, of the file at *path*."""

    path: Path
    data: bytes | None = None
    target: Path | None = None


Record = list[Operation]


def recorded_on_disk(record: Record, patch: pytest.MonkeyPatch) -> None:
    write, rename, unlink = atomic.write, atomic.rename, Path.unlink

    def noted_write(path: Path, data: bytes) -> None:
        record.append(Operation(path, data))
        write(path, data)

    def noted_rename(path: Path, target: Path) -> None:
        record.append(Operation(path, target=target))
        rename(path, target)

    def noted_unlink(path: Path, missing_ok: bool = False) -> None:
        record.append(Operation(path))
        unlink(path, missing_ok)

    patch.setattr(atomic, "write", noted_write)
    patch.setattr(atomic, "rename", noted_rename)
    patch.setattr(Path, "unlink", noted_unlink)


def recorded_by_sftp(record: Record, patch: pytest.MonkeyPatch) -> None:
    client = paramiko.SFTPClient
    putfo, rename, remove = client.putfo, client.posix_rename, client.remove

    def noted_putfo(self: Any, file: Any, path: str, *more: Any) -> Any:
        record.append(Operation(Path(path), file.getvalue()))
        return putfo(self, file, path, *more)

    def noted_rename(self: Any, path: str, target: str) -> None:
        if Path(path).exists():
            record.append(Operation(Path(path), target=Path(target)))
        rename(self, path, target)

    def noted_remove(self: Any, path: str) -> None:
        record.append(Operation(Path(path)))
        remove(self, path)

    patch.setattr(client, "putfo", noted_putfo)
    patch.setattr(client, "posix_rename", noted_rename)
    patch.setattr(client, "remove", noted_remove)


def play(operations: Record, root: Path, *, torn: bool) -> None:
    """Do *operations* anew; *torn* leaves the last write at its first half."""
    for i, operation in enumerate(operations):
        if operation.data is not None:
            cut = torn and i == len(operations) - 1
            operation.path.parent.mkdir(parents=True, exist_ok=True)
            operation.path.write_bytes(operation.data[: len(operation.data) // 2] if cut else operation.data)
        elif operation.target is not None:
            operation.path.replace(operation.target)
        else:
            operation.path.unlink(missing_ok=True)
    assert root.exists()


def each_prefix(record: Record, site: Path, before: Path, look: Callable[[str | None, int], None]) -> None:
    """Play every prefix into a copy of *before* at *site*, whole and torn, and give what a reader sees to *look*."""
    mine = [operation for operation in record if site in operation.path.parents]
    for count in range(len(mine) + 1):
        for torn in (False, True):
            shutil.rmtree(site, ignore_errors=True)
            shutil.copytree(before, site)
            play(mine[:count], site, torn=torn)
            look(view(in_folder(site)), count)


def sftp_host(rig: Rig, root: Path) -> SftpHost:
    root.mkdir(exist_ok=True)
    target = Sftp(host="127.0.0.1", port=str(rig.port), user=USER, path=str(root), host_key=rig.fingerprint)
    return SftpHost(target, SftpLogin(PASSWORD))


@pytest.fixture(params=["folder", "sftp"])
def host(request: pytest.FixtureRequest, tmp_path: Path) -> Host:
    if request.param == "folder":
        return FolderHost(tmp_path / "site")
    return sftp_host(request.getfixturevalue("sftp"), tmp_path / "site")


def test_every_prefix_of_a_publish_shows_the_old_or_the_new(
    host: Host, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    site, before = tmp_path / "site", tmp_path / "before"
    publish_ok(make_site("older", [photo("zero")]), a_way(host, tmp_path))
    publish_ok(OLD, a_way(host, tmp_path))
    shutil.copytree(site, before)
    record: Record = []
    with monkeypatch.context() as patch:
        recorded_on_disk(record, patch) if isinstance(host, FolderHost) else recorded_by_sftp(record, patch)
        publish_ok(NEW, a_way(host, tmp_path, now=NOON + GRACE))
    assert sum(op.data is None and op.target is None for op in record if site in op.path.parents) == 1, (
        "one is tidied"
    )
    seen: list[str | None] = []

    def look(word: str | None, count: int) -> None:
        seen.append(word)
        read = in_folder(site)
        assert opens(OLD.index, lambda name: read(f"{PID}/{name}")) is None, (
            f"who has the old page open, at {count}"
        )

    each_prefix(record, site, before, look)
    assert set(seen) == {"old", "new"}
    assert seen == sorted(seen, key=lambda word: word == "new"), "never back again"
    assert len(seen) >= 2 * 8


def test_every_prefix_of_a_first_publish_shows_nothing_or_the_new(
    host: Host, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "before").mkdir()
    record: Record = []
    with monkeypatch.context() as patch:
        recorded_on_disk(record, patch) if isinstance(host, FolderHost) else recorded_by_sftp(record, patch)
        publish_ok(NEW, a_way(host, tmp_path))
    seen: list[str | None] = []
    each_prefix(record, tmp_path / "site", tmp_path / "before", lambda word, _: seen.append(word))
    assert set(seen) == {None, "new"}


def test_a_run_after_any_prefix_converges(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The receipt is on the same disk: it is played with the rest, and must let the next run know its own work."""
    publish_ok(OLD, folder_way(tmp_path))
    before = tmp_path.parent / f"{tmp_path.name}-before"
    shutil.copytree(tmp_path, before)
    record: Record = []
    with monkeypatch.context() as patch:
        recorded_on_disk(record, patch)
        publish_ok(NEW, folder_way(tmp_path))
    newest = make_site("newest", [photo("four"), photo("five")])
    for count in range(len(record) + 1):
        for torn in (False, True):
            shutil.rmtree(tmp_path)
            shutil.copytree(before, tmp_path)
            play(record[:count], tmp_path, torn=torn)
            publish_ok(newest if count % 2 else NEW, folder_way(tmp_path))
            assert view(in_folder(tmp_path / "site")) == ("newest" if count % 2 else "new")
            assert not list((tmp_path / "site").rglob("*.bin.part"))


def test_every_prefix_of_a_withdrawal_shows_the_old_or_the_notice(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    publish_ok(OLD, folder_way(tmp_path))
    shutil.copytree(tmp_path / "site", tmp_path / "before")
    record: Record = []
    with monkeypatch.context() as patch:
        recorded_on_disk(record, patch)
        withdraw(PID, NOTICE, folder_way(tmp_path))
    seen: list[str | None] = []
    each_prefix(record, tmp_path / "site", tmp_path / "before", lambda word, _: seen.append(word))
    assert set(seen) == {"old", "withdrawn"}


def test_the_order_holds_for_any_host_that_writes_whole_files(tmp_path: Path) -> None:
    """Seen from the host's verbs alone, as storage with whole writes has them."""
    host = Memory()
    publish_ok(OLD, a_way(host, tmp_path))
    states: list[dict[str, bytes]] = []

    class Kept(Memory):
        def put_new(self, path: str, data: bytes) -> None:
            super().put_new(path, data)
            states.append(dict(self.files))

        def replace(self, path: str, data: bytes) -> None:
            self.put_new(path, data)

    publish_ok(NEW, a_way(Kept(host.files), tmp_path))
    seen = [view(state.get) for state in states]
    assert seen == ["old", "old", "new"]
