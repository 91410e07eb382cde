"""SFTP against the real OpenSSH `sftp-server`."""

import logging
import shutil
import subprocess
from pathlib import Path
from typing import Any

import paramiko
import pytest

from sitegen.model.publish import Sftp
from sitegen.publish import sftp as adapter
from sitegen.publish.credentials import SftpLogin, lookup, sftp_login
from sitegen.publish.fault import Fault, Stopped
from sitegen.publish.host import Entry
from sitegen.publish.run import Published, publish
from sitegen.publish.sftp import SftpHost
from sitegen.publish.withdraw import Withdrawn, withdraw
from tests.publish.sftp_rig import PASSWORD, USER, Rig, sftp_rig
from tests.publish.sites import (
    NOTICE,
    PID,
    a_way,
    files_in,
    in_folder,
    make_site,
    opens,
    photo,
    publish_ok,
    view,
    waited,
)

ONE, TWO = photo("one", 100_000), photo("two")


def to(rig: Rig, root: Path, *, password: str = PASSWORD, **more: str) -> SftpHost:
    root.mkdir(exist_ok=True)
    written = {
        "host": "127.0.0.1",
        "port": str(rig.port),
        "user": USER,
        "path": str(root),
        "host_key": rig.fingerprint,
        **more,
    }
    return SftpHost(Sftp.model_validate(written), SftpLogin(password))


def refused(host: SftpHost, home: Path) -> Stopped:
    stopped = publish(make_site("new", [ONE]), a_way(host, home), opens)
    assert isinstance(stopped, Stopped), stopped
    assert PASSWORD not in stopped.sentence
    return stopped


def test_the_six_verbs(tmp_path: Path, sftp: Rig) -> None:
    host = to(sftp, tmp_path / "site")
    assert host.size("a/b/file") is None
    assert host.read("a/b/file") is None
    assert host.list("a/b") == ()
    host.delete("a/b/file")
    host.put_new("a/b/file", ONE)
    host.replace("a/b/file", TWO)
    assert host.size("a/b/file") == len(TWO)
    assert host.read("a/b/file") == TWO
    assert host.list("a/b") == (Entry("file", len(TWO)),)
    assert host.list("a") == (), "folders are no files"
    host.delete("a/b/file")
    assert host.read("a/b/file") is None
    host.put_new("empty", b"")
    assert host.read("empty") == b""
    host.close()
    host.close()


def test_publish_republish_withdraw(tmp_path: Path, sftp: Rig) -> None:
    root = tmp_path / "site"
    publish_ok(make_site("old", [ONE, TWO]), a_way(to(sftp, root), tmp_path))
    assert view(in_folder(root)) == "old"
    assert publish_ok(make_site("new", [ONE, TWO]), a_way(to(sftp, root), tmp_path)).files == 1
    assert view(in_folder(root)) == "new"
    done = withdraw(PID, NOTICE, a_way(to(sftp, root), tmp_path))
    assert isinstance(done, Withdrawn)
    assert (done.deleted, done.still) == (2, ())
    assert not list(root.rglob("*.part"))


def test_a_changed_host_key_is_refused_before_any_byte(tmp_path: Path, sftp: Rig) -> None:
    other = "SHA256:" + "A" * 43
    stopped = refused(to(sftp, tmp_path / "site", host_key=other), tmp_path)
    assert stopped.kind == "host-key"
    assert sftp.fingerprint in stopped.sentence
    assert (sftp.logins, sftp.started, sftp.received) == ([], 0, 0)
    assert files_in(tmp_path / "site") == {}


def test_an_unknown_host_key_is_refused_and_shown(tmp_path: Path, sftp: Rig) -> None:
    host = to(sftp, tmp_path / "site")
    host = SftpHost(
        Sftp.model_validate(
            {"host": "127.0.0.1", "port": str(sftp.port), "user": USER, "path": str(tmp_path)}
        ),
        SftpLogin(PASSWORD),
    )
    stopped = refused(host, tmp_path)
    assert stopped.kind == "host-key"
    assert sftp.fingerprint in stopped.sentence
    assert sftp.logins == []


def test_one_of_several_pinned_keys_is_enough(tmp_path: Path, sftp: Rig) -> None:
    keys = f"SHA256:{'A' * 43} {sftp.fingerprint}"
    publish_ok(make_site("new"), a_way(to(sftp, tmp_path / "site", host_key=keys), tmp_path))


def test_a_fingerprint_is_the_one_that_openssh_shows(tmp_path: Path, host_key: paramiko.PKey) -> None:
    """Checked against OpenSSH's own `ssh-keygen -l`, where it is installed."""
    keygen = shutil.which("ssh-keygen")
    if keygen is None:
        pytest.skip("no ssh-keygen is installed")
    (tmp_path / "key.pub").write_text(f"{host_key.get_name()} {host_key.get_base64()} florist\n")
    shown = subprocess.run(
        [keygen, "-l", "-f", tmp_path / "key.pub"], check=True, capture_output=True, text=True
    )
    assert host_key.fingerprint.rstrip("=") == shown.stdout.split()[1]


def test_a_wrong_password_is_refused_and_never_shown(
    tmp_path: Path, sftp: Rig, caplog: pytest.LogCaptureFixture, capfd: pytest.CaptureFixture[str]
) -> None:
    caplog.set_level(logging.DEBUG)
    wrong = "another-planted-secret-9177"
    host = to(sftp, tmp_path / "site", password=wrong)
    stopped = refused(host, tmp_path)
    assert stopped.kind == "denied"
    publish_ok(make_site("new", [ONE]), a_way(to(sftp, tmp_path / "site"), tmp_path))
    out = capfd.readouterr()
    kept = b"".join(files_in(tmp_path).values())
    for secret in (wrong, PASSWORD):
        assert (
            secret
            not in stopped.sentence + repr(host) + repr(SftpLogin(secret)) + caplog.text + out.out + out.err
        )
        assert secret.encode() not in kept


def test_a_missing_folder_is_said(tmp_path: Path, sftp: Rig) -> None:
    stopped = refused(to(sftp, tmp_path / "site", path=str(tmp_path / "nowhere")), tmp_path)
    assert stopped.kind == "absent"
    assert "nowhere" in stopped.sentence


def test_nobody_listens(tmp_path: Path, host_key: paramiko.PKey) -> None:
    with sftp_rig(host_key) as rig:
        pass
    assert refused(to(rig, tmp_path / "site"), tmp_path).kind == "unreachable"


def test_a_lost_connection_is_made_again(tmp_path: Path, sftp: Rig) -> None:
    sftp.cut_after = 60_000
    way = a_way(to(sftp, tmp_path / "site"), tmp_path)
    assert isinstance(publish(make_site("new", [ONE]), way, opens), Published)
    assert sftp.started == 2
    assert waited(way) == [1]
    assert view(in_folder(tmp_path / "site")) == "new"
    assert not list((tmp_path / "site").rglob("*.part"))


def test_a_server_that_falls_silent_is_left_in_time(
    tmp_path: Path, sftp: Rig, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(adapter, "_SECONDS", 1)
    host = to(sftp, tmp_path / "site")
    host.put_new("x", b"x")
    sftp.stall = True
    with pytest.raises(Fault) as caught:
        host.read("x")
    assert caught.value.kind == "again"
    host.close()


def test_a_read_only_server_is_said(tmp_path: Path, host_key: paramiko.PKey) -> None:
    """OpenSSH's own read-only mode."""
    with sftp_rig(host_key, flags=["-R"]) as rig:
        assert refused(to(rig, tmp_path / "site"), tmp_path).kind == "denied"
    assert files_in(tmp_path / "site") == {}


def test_a_full_disk_is_said(tmp_path: Path, sftp: Rig) -> None:
    """The system's full device stands where the page's part would be written; SFTP knows no word for it."""
    publish_ok(make_site("old", [ONE]), a_way(to(sftp, tmp_path / "site"), tmp_path))
    (tmp_path / "site" / PID / ".index.html.part").symlink_to("/dev/full")
    stopped = refused(to(sftp, tmp_path / "site"), tmp_path)
    assert "perhaps its disk is full" in stopped.sentence
    assert view(in_folder(tmp_path / "site")) == "old"


class _NoRename(paramiko.SFTPServerInterface):
    """A server of another make, that has no rename onto a file."""

    def stat(self, path: str) -> Any:
        return paramiko.SFTPAttributes.from_stat(Path(path).stat())


def test_a_server_that_cannot_replace_in_one_step_is_refused(tmp_path: Path, host_key: paramiko.PKey) -> None:
    with sftp_rig(host_key, handler=_NoRename) as rig:
        stopped = refused(to(rig, tmp_path / "site"), tmp_path)
    assert stopped.kind == "rename"
    assert "half a page" in stopped.sentence


@pytest.mark.parametrize("content", [b"", b"hello", b"\xff\xfe\x00\x80"])
def test_a_key_file_that_holds_none(content: bytes, tmp_path: Path, sftp: Rig) -> None:
    key = tmp_path / "id"
    key.write_bytes(content)
    written = {
        "host": "127.0.0.1",
        "port": str(sftp.port),
        "user": USER,
        "path": str(tmp_path),
        "host_key": sftp.fingerprint,
    }
    stopped = refused(SftpHost(Sftp.model_validate(written), SftpLogin(key_file=str(key))), tmp_path)
    assert stopped.kind == "denied"
    assert f"{key} is no private key that opens" in stopped.sentence


def test_a_key_file_that_is_not_there(tmp_path: Path, sftp: Rig) -> None:
    target = to(sftp, tmp_path / "site")._target
    stopped = refused(SftpHost(target, SftpLogin(key_file=str(tmp_path / "id"))), tmp_path)
    assert stopped.kind == "denied"
    assert "there is no key file" in stopped.sentence
    assert sftp.logins == []


def test_secrets_come_from_the_environment_then_the_keyring() -> None:
    ring = {("sitegen", "SITEGEN_SFTP_PASSWORD"): "from the ring"}
    find = lookup({"SITEGEN_SFTP_KEY": "~/.ssh/id"}, lambda service, name: ring.get((service, name)))
    assert sftp_login(find) == SftpLogin("from the ring", "~/.ssh/id", None)
    assert (
        sftp_login(lookup({"SITEGEN_SFTP_PASSWORD": "from outside"}, lambda *_: "ring")).password
        == "from outside"
    )
