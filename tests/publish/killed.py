"""A process that publishes and is killed at one operation, for the tests of what a kill leaves.

A place is `folder`, or `sftp:PORT:FINGERPRINT`, or `s3:ENDPOINT:BUCKET`.
"""

from pathlib import Path

from sitegen.cli import outgoing
from sitegen.model.publish import S3, Sftp
from sitegen.publish.credentials import S3Login, SftpLogin
from sitegen.publish.folder import FolderHost
from sitegen.publish.host import Host
from sitegen.publish.s3 import S3Host
from sitegen.publish.settings import PublishSettings
from sitegen.publish.sftp import SftpHost
from sitegen.publish.site import SealedSite
from tests.publish.hosts import killing
from tests.publish.sftp_rig import PASSWORD, USER
from tests.publish.sites import a_way, make_site, photo, publish_ok
from tests.running import sitegen


def old() -> SealedSite:
    return make_site("old", [photo("one")])


def new() -> SealedSite:
    return make_site("new", [photo("two")])


def host_at(where: str, home: Path) -> Host:
    kind, _, rest = where.partition(":")
    if kind == "folder":
        return FolderHost(home / "site")
    first, _, second = rest.partition(":")
    if kind == "sftp":
        target = {
            "host": "127.0.0.1",
            "port": first,
            "user": USER,
            "path": str(home / "site"),
            "host_key": second,
        }
        return SftpHost(Sftp.model_validate(target), SftpLogin(PASSWORD))
    endpoint, _, bucket = rest.rpartition(":")
    return S3Host(S3(bucket=bucket, endpoint=endpoint), S3Login("id", "secret"))


def run_to(home: str, where: str, at: int, when: str) -> None:
    """Publish in a process of its own, which is killed at that operation, or ends well where there is none."""
    host = killing(host_at(where, Path(home)), at, after=when == "after")
    publish_ok(new(), a_way(host, Path(home)))


def command_to(home: str, environment: dict[str, str], arguments: tuple[str, ...], at: int) -> None:
    """Run the command line in a process of its own, which is killed before that operation at the host."""
    found = outgoing._host

    def host(target: PublishSettings) -> Host:
        return killing(found(target), at, after=False)

    outgoing._host = host
    sitegen(Path(home), *arguments, **environment)
