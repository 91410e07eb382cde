"""S3-compatible storage against moto's server, with a relay before it that stumbles."""

import logging
from collections.abc import Iterator
from itertools import count
from pathlib import Path

import boto3
import pytest
from mypy_boto3_s3 import S3Client

from sitegen.model.publish import S3
from sitegen.publish.credentials import S3Login, lookup, s3_login
from sitegen.publish.fault import Kind, Stopped
from sitegen.publish.host import Entry
from sitegen.publish.run import Published, publish
from sitegen.publish.s3 import S3Host
from sitegen.publish.withdraw import Withdrawn, withdraw
from tests.publish.sites import (
    NOTICE,
    PID,
    a_way,
    files_in,
    make_site,
    opens,
    photo,
    publish_ok,
    view,
    waited,
)
from tests.publish.stumbling import Stumbles, stumbling

ONE, TWO = photo("one"), photo("two")
SECRET = "planted-access-secret-7131"
LOGIN = S3Login("planted-key-id-4242", SECRET)
_numbers = count()


@pytest.fixture
def client(s3_endpoint: str) -> Iterator[S3Client]:
    made = boto3.client(
        "s3",
        endpoint_url=s3_endpoint,
        region_name="us-east-1",
        aws_access_key_id="x",
        aws_secret_access_key="x",
    )
    yield made
    made.close()


@pytest.fixture
def bucket(client: S3Client) -> str:
    name = f"flowers-{next(_numbers)}"
    client.create_bucket(Bucket=name)
    return name


@pytest.fixture
def relay(s3_endpoint: str) -> Iterator[tuple[str, Stumbles]]:
    with stumbling(s3_endpoint) as found:
        yield found


def to(endpoint: str, bucket: str, prefix: str | None = None) -> S3Host:
    return S3Host(S3(bucket=bucket, endpoint=endpoint, prefix=prefix), LOGIN)


class Held(S3Host):
    """Serves one publish after another: to make a client takes longer than to publish."""

    def __init__(self, endpoint: str, bucket: str) -> None:
        super().__init__(S3(bucket=bucket, endpoint=endpoint), LOGIN)

    def close(self) -> None:
        """Stay open until `end`."""

    def end(self) -> None:
        super().close()


def test_the_six_verbs(s3_endpoint: str, bucket: str) -> None:
    host = to(s3_endpoint, bucket, "/proposals/")
    assert host.size("a/file.bin") is None
    assert host.read("a/file.bin") is None
    assert host.list("a") == ()
    host.delete("a/file.bin")
    host.put_new("a/file.bin", ONE)
    host.put_new("a/deeper/file.bin", TWO)
    assert host.size("a/file.bin") == len(ONE)
    assert host.read("a/file.bin") == ONE
    assert host.list("a") == (Entry("file.bin", len(ONE)),)
    host.replace("a/file.bin", TWO)
    assert host.read("a/file.bin") == TWO
    host.delete("a/file.bin")
    assert host.size("a/file.bin") is None
    host.close()


def test_types_and_caching_are_said_and_no_access_list(
    client: S3Client, relay: tuple[str, Stumbles], bucket: str, tmp_path: Path
) -> None:
    site = make_site("new", [ONE])
    publish_ok(site, a_way(to(relay[0], bucket, "proposals"), tmp_path))
    page = client.get_object(Bucket=bucket, Key=f"proposals/{PID}/index.html")
    assert (page["ContentType"], page["CacheControl"]) == (
        "text/html; charset=utf-8",
        "no-cache, no-transform",
    )
    blob = client.get_object(Bucket=bucket, Key=f"proposals/{PID}/{next(iter(site.blobs))}")
    assert (blob["ContentType"], blob["CacheControl"]) == (
        "application/octet-stream",
        "public, max-age=31536000, immutable",
    )
    for answer in (page, blob):
        answer["Body"].close()
    sent = {name.lower() for headers in relay[1].headers for name in headers}
    assert not {
        name for name in sent if name.startswith(("x-amz-acl", "x-amz-checksum", "x-amz-sdk-checksum"))
    }
    assert "x-amz-trailer" not in sent


def test_publish_republish_withdraw(s3_endpoint: str, bucket: str, client: S3Client, tmp_path: Path) -> None:
    client.put_object(Bucket=bucket, Key=f"{PID}/notes.txt", Body=b"foreign")
    host = to(s3_endpoint, bucket)
    publish_ok(make_site("old", [ONE, TWO]), a_way(to(s3_endpoint, bucket), tmp_path))
    assert view(host.read) == "old"
    assert publish_ok(make_site("new", [ONE, TWO]), a_way(to(s3_endpoint, bucket), tmp_path)).files == 1
    assert view(host.read) == "new"
    done = withdraw(PID, NOTICE, a_way(to(s3_endpoint, bucket), tmp_path))
    assert isinstance(done, Withdrawn)
    assert (done.deleted, done.still) == (2, ())
    assert view(host.read) == "withdrawn"
    assert host.read(f"{PID}/notes.txt") == b"foreign"
    host.close()


@pytest.mark.slow
@pytest.mark.parametrize(
    ("status", "kind"), [(400, "refused"), (401, "denied"), (403, "denied"), (412, "refused"), (507, "full")]
)
def test_a_refusal_at_any_request_is_said_and_never_tried_again(
    status: int, kind: Kind, relay: tuple[str, Stumbles], bucket: str, tmp_path: Path
) -> None:
    endpoint, stumbles = relay
    host = Held(endpoint, bucket)
    publish_ok(make_site("old"), a_way(host, tmp_path))
    for at in range(2, 40, 9):
        stumbles.coming = [*([0] * at), status]
        asked = len(stumbles.seen)
        way = a_way(host, tmp_path)
        result = publish(make_site(f"new {at}", [photo(str(at))]), way, opens)
        if stumbles.coming:
            assert at > 10
            break
        assert waited(way) == []
        assert isinstance(result, Stopped)
        assert result.kind == kind
        asked_since = stumbles.seen[asked + at :]
        assert asked_since.count(asked_since[0]) == 1, "what was refused was not asked again"
        view(host.read)
    stumbles.coming = []
    publish_ok(make_site("last", [ONE]), a_way(host, tmp_path))
    assert view(host.read) == "last"
    host.end()


@pytest.mark.slow
@pytest.mark.parametrize("stumble", [429, 500, 503, "reset", "short"])
def test_a_passing_stumble_at_any_request_is_overcome(
    stumble: int | str, relay: tuple[str, Stumbles], bucket: str, tmp_path: Path
) -> None:
    endpoint, stumbles = relay
    host = Held(endpoint, bucket)
    for at in range(1, 40, 6):
        stumbles.coming = [*([0] * at), stumble]
        result = publish(make_site(f"new {at}", [photo(str(at))]), a_way(host, tmp_path), opens)
        assert isinstance(result, Published), result
        if stumbles.coming:
            break
        assert view(host.read) == f"new {at}"
    assert at > 10
    host.end()


def test_trouble_that_stays_ends_after_four_times(
    relay: tuple[str, Stumbles], bucket: str, tmp_path: Path
) -> None:
    relay[1].always = 503
    stopped = publish(make_site("new"), a_way(to(relay[0], bucket), tmp_path), opens)
    assert isinstance(stopped, Stopped)
    assert stopped.kind == "again"
    assert len(relay[1].seen) == 4


def test_a_bucket_that_is_not_there_is_said(s3_endpoint: str, tmp_path: Path) -> None:
    stopped = publish(make_site("new"), a_way(to(s3_endpoint, "no-such-flowers"), tmp_path), opens)
    assert isinstance(stopped, Stopped)
    assert stopped.kind == "absent"
    assert "the bucket" in stopped.sentence


def test_nobody_there(tmp_path: Path, s3_endpoint: str) -> None:
    with stumbling(s3_endpoint) as (endpoint, _):
        pass
    stopped = publish(make_site("new"), a_way(to(endpoint, "flowers"), tmp_path), opens)
    assert isinstance(stopped, Stopped)
    assert stopped.kind == "unreachable"


def test_secrets_are_nowhere(
    relay: tuple[str, Stumbles], bucket: str, tmp_path: Path, caplog: pytest.LogCaptureFixture
) -> None:
    caplog.set_level(logging.INFO)
    host = to(relay[0], bucket)
    publish_ok(make_site("new", [ONE]), a_way(host, tmp_path))
    relay[1].always = 403
    stopped = publish(make_site("newer", [ONE]), a_way(to(relay[0], bucket), tmp_path), opens)
    assert isinstance(stopped, Stopped)
    kept = b"".join(files_in(tmp_path).values()).decode()
    for secret in (SECRET, LOGIN.key_id):
        assert secret not in stopped.sentence + repr(host) + repr(LOGIN) + caplog.text + kept + host.place
    assert all(SECRET not in str(headers) for headers in relay[1].headers)


def test_keys_come_by_our_names_or_the_common_ones() -> None:
    common = {"AWS_ACCESS_KEY_ID": "c", "AWS_SECRET_ACCESS_KEY": "s", "AWS_SESSION_TOKEN": "t"}
    assert s3_login(lookup(common)) == S3Login("c", "s", "t")
    ours = {"SITEGEN_S3_KEY_ID": "o", "SITEGEN_S3_SECRET": "p"}
    assert s3_login(lookup({**common, **ours})) == S3Login("o", "p", None)
    assert s3_login(lookup({"SITEGEN_S3_KEY_ID": "o"})) is None
