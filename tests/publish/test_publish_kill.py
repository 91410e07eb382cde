"""SIGKILL at each operation, on disk, over SFTP and into S3-compatible storage: readers see a whole site, a rerun converges."""

import multiprocessing
import signal
from collections.abc import Callable
from pathlib import Path

import boto3
import pytest

from sitegen.publish.receipt import load
from tests.publish.killed import host_at, new, old, run_to
from tests.publish.sftp_rig import Rig
from tests.publish.sites import PID, a_way, publish_ok, view

MOST = 40


# Dozens of processes are killed: each is split off from one that has loaded everything, instead of loading it itself.
_processes = multiprocessing.get_context("forkserver")


def killed(home: Path, where: str, at: int, when: str) -> bool:
    process = _processes.Process(target=run_to, args=(str(home), where, at, when))
    process.start()
    process.join(60)
    assert process.exitcode in (0, -signal.SIGKILL), "what it wrote stands above"
    return process.exitcode != 0


def kill_everywhere(tmp_path: Path, where_of: Callable[[Path, int], str], *, step: int) -> None:
    """Kill at every *step*-th operation, before it or after it, until a run is through."""
    seen: set[str] = set()
    for number, at in enumerate(range(0, MOST, step)):
        home = tmp_path / str(at)
        (home / "site").mkdir(parents=True)
        where = where_of(home, at)
        host = host_at(where, home)
        publish_ok(old(), a_way(host, home))
        if not killed(home, where, at, "after" if number % 2 else "before"):
            assert len(seen) == 2, f"killed runs left {seen}"
            return
        word = view(host.read)
        assert word in ("old", "new")
        seen.add(word)
        publish_ok(new(), a_way(host, home))
        assert view(host.read) == "new"
        assert not [one for one in host.list(f"{PID}/b") if one.name.endswith(".part")]
        assert load(home / "receipts" / "fern-hollow.json").standings[0].pending == ""
        host.close()
    pytest.fail("no run was through")


@pytest.mark.slow
def test_a_kill_on_disk_leaves_a_whole_site(tmp_path: Path) -> None:
    kill_everywhere(tmp_path, lambda _, __: "folder", step=1)


@pytest.mark.slow
def test_a_kill_over_sftp_leaves_a_whole_site(tmp_path: Path, sftp: Rig) -> None:
    kill_everywhere(tmp_path, lambda _, __: f"sftp:{sftp.port}:{sftp.fingerprint}", step=3)


@pytest.mark.slow
def test_a_kill_into_storage_leaves_a_whole_site(tmp_path: Path, s3_endpoint: str) -> None:
    def bucket(_: Path, at: int) -> str:
        client = boto3.client(
            "s3",
            endpoint_url=s3_endpoint,
            region_name="us-east-1",
            aws_access_key_id="id",
            aws_secret_access_key="secret",
        )
        client.create_bucket(Bucket=f"killed-{at}")
        client.close()
        return f"s3:{s3_endpoint}:killed-{at}"

    kill_everywhere(tmp_path, bucket, step=3)
