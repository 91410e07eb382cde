"""SFTP and S3-compatible storage from the command line: planned, sent, checked, linked, sent again, killed, taken down."""

import json
import multiprocessing
import signal
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path

import boto3
import paramiko
import pytest

from tests.browser.sealing import EVENT, with_photos
from tests.publish.fronted import fronted
from tests.publish.killed import command_to
from tests.publish.served import serving
from tests.publish.sftp_rig import PASSWORD, USER, Rig
from tests.publish.sites import files_in
from tests.running import sitegen

SECRET = "planted-access-secret-7131"
NO_KEY = "SHA256:" + "A" * 43
_processes = multiprocessing.get_context("forkserver")
Stored = dict[str, bytes]


@dataclass(frozen=True)
class Studio:
    """A studio that publishes to a real server: what is stored there, and how to spoil a file of it."""

    home: Path
    environment: Mapping[str, str]
    stored: Callable[[], Stored]
    store: Callable[[str, bytes], object]

    def run(self, *arguments: str, code: int = 0) -> str:
        done = sitegen(self.home, *arguments, **self.environment)
        assert done.returncode == code, done.stdout + done.stderr
        said = done.stdout + done.stderr
        assert not [secret for secret in (PASSWORD, SECRET) if secret in said]
        return said

    def json(self, *arguments: str) -> dict[str, object]:
        found: dict[str, object] = json.loads(self.run(*arguments, "--json"))
        return found


def settings(home: Path, text: str) -> None:
    (home / "content" / "publish.yaml").write_text(text)


def sftp_yaml(base: str, rig: Rig, path: Path, key: str | None) -> str:
    pinned = f", host_key: {key}" if key else ""
    where = f"{{host: 127.0.0.1, port: {rig.port}, user: {USER}, path: {path}{pinned}}}"
    return f"to: sftp\naddress: {base}\nsftp: {where}\n"


@pytest.fixture
def by_sftp(tmp_path: Path, certificate: tuple[Path, Path], sftp: Rig) -> Iterator[Studio]:
    home, root = with_photos(tmp_path / "studio"), tmp_path / "site"
    with serving(root, certificate) as (base, _habits):
        settings(home, sftp_yaml(base, sftp, root, sftp.fingerprint))
        environment = {"SITEGEN_SFTP_PASSWORD": PASSWORD, "SSL_CERT_FILE": str(certificate[0])}
        yield Studio(
            home, environment, lambda: files_in(root), lambda name, data: (root / name).write_bytes(data)
        )


@pytest.fixture
def by_s3(tmp_path: Path, s3_endpoint: str) -> Iterator[Studio]:
    home, bucket = with_photos(tmp_path / "studio"), "by-command"
    client = boto3.client(
        "s3",
        endpoint_url=s3_endpoint,
        region_name="us-east-1",
        aws_access_key_id="x",
        aws_secret_access_key="x",
    )
    client.create_bucket(Bucket=bucket)

    def stored() -> Stored:
        names = [one["Key"] for one in client.list_objects_v2(Bucket=bucket).get("Contents", ())]
        return {name: client.get_object(Bucket=bucket, Key=name)["Body"].read() for name in names}

    with fronted(client, bucket) as base:
        settings(home, f"to: s3\naddress: {base}\ns3: {{bucket: {bucket}, endpoint: '{s3_endpoint}'}}\n")
        environment = {"SITEGEN_S3_KEY_ID": "planted-key-id-4242", "SITEGEN_S3_SECRET": SECRET}
        put = lambda name, data: client.put_object(Bucket=bucket, Key=name, Body=data)  # noqa: E731 - one line
        yield Studio(home, environment, stored, put)
    client.close()


@pytest.fixture(params=["by_sftp", "by_s3"])
def studio(request: pytest.FixtureRequest) -> Studio:
    found: Studio = request.getfixturevalue(request.param)
    return found


@pytest.mark.slow
def test_from_a_plan_to_its_withdrawal(studio: Studio) -> None:
    assert studio.json("publish", "millrace", "--dry-run")["revision"] == 1
    assert studio.stored() == {}
    assert "not published yet" in studio.run("link", "millrace")
    first = studio.json("publish", "millrace")
    assert (first["live"], first["revision"]) == (True, 1)
    assert studio.run("link", "millrace").startswith("It is live:")
    assert "as sent" in studio.run("publish", "millrace", "--verify")

    path = studio.home / "content" / "events" / EVENT / "event.md"
    path.write_text(path.read_text() + "\nA word more, and gladly.\n")
    assert studio.json("publish", "millrace")["files"] == 1
    assert studio.json("publish", "millrace")["files"] == 0

    blob = next(name for name in studio.stored() if name.endswith(".bin"))
    studio.store(blob, b"rotten")
    assert "not as sent" in studio.run("publish", "millrace", "--verify", code=3)
    assert studio.json("publish", "millrace", "--recheck")["files"] == 1
    assert "as sent." in studio.run("publish", "millrace", "--verify")

    assert "was taken down" in studio.run("withdraw", "millrace")
    assert not [name for name in studio.stored() if name.endswith(".bin")]
    assert "it was taken down" in studio.run("link", "millrace")
    kept = b"".join(files_in(studio.home).values())
    assert PASSWORD.encode() not in kept
    assert SECRET.encode() not in kept


@pytest.mark.slow
def test_killed_on_its_way_it_carries_on(studio: Studio) -> None:
    studio.run("publish", "millrace")
    path = studio.home / "content" / "events" / EVENT / "event.md"
    path.write_text(path.read_text() + "\nA word more, and gladly.\n")
    arguments = (str(studio.home), dict(studio.environment), ("publish", "millrace"))
    ends = []
    for at in (0, 4, 8):
        process = _processes.Process(target=command_to, args=(*arguments, at))
        process.start()
        process.join(60)
        ends.append(process.exitcode)
    assert ends == [-signal.SIGKILL] * 3
    studio.run("publish", "millrace")
    assert "as sent." in studio.run("publish", "millrace", "--verify")
    records = studio.home / "content" / "events" / EVENT / "records"
    assert [one.name for one in sorted(records.glob("*.json"))] == [
        "0001-revision.json",
        "0002-revision.json",
    ]
    assert not [name for name in studio.stored() if name.endswith(".part")]


def test_a_host_key_that_is_not_pinned_or_another_stops_before_any_byte(
    by_sftp: Studio, sftp: Rig, tmp_path: Path, host_key: paramiko.PKey
) -> None:
    base = "https://127.0.0.1:9/"
    settings(by_sftp.home, sftp_yaml(base, sftp, tmp_path / "site", NO_KEY))
    said = by_sftp.run("publish", "millrace", "--dry-run", code=3)
    assert host_key.fingerprint in said
    settings(by_sftp.home, sftp_yaml(base, sftp, tmp_path / "site", None))
    said = by_sftp.run("publish", "millrace", "--dry-run", code=3)
    assert host_key.fingerprint in said
    assert (by_sftp.stored(), sftp.started) == ({}, 0)
