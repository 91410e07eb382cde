"""Run as a program: publishes, and is killed at one operation. Used by the tests of what a kill leaves.

    python -m tests.publish.killed HOME WHERE AT before|after

WHERE is `folder`, or `sftp:PORT:FINGERPRINT`, or `s3:ENDPOINT:BUCKET`. Leaves with 0 where nothing was left to kill.
"""

import sys
from pathlib import Path

from sitegen.publish.credentials import S3Login, SftpLogin
from sitegen.publish.folder import FolderHost
from sitegen.publish.host import Host
from sitegen.publish.settings import S3, Sftp
from sitegen.publish.site import SealedSite
from tests.publish.hosts import killing
from tests.publish.sites import a_way, make_site, photo, publish_ok


def old() -> SealedSite:
    return make_site("old", [photo("one")])


def new() -> SealedSite:
    return make_site("new", [photo("two")])


def host_at(where: str, home: Path) -> Host:
    kind, _, rest = where.partition(":")
    if kind == "folder":
        return FolderHost(home / "site")
    first, _, second = rest.partition(":")
    # The libraries behind these take most of a second to load, and this program starts dozens of times.
    if kind == "sftp":
        from sitegen.publish.sftp import SftpHost  # noqa: PLC0415
        from tests.publish.sftp_rig import PASSWORD, USER  # noqa: PLC0415

        target = {
            "host": "127.0.0.1",
            "port": first,
            "user": USER,
            "path": str(home / "site"),
            "host_key": second,
        }
        return SftpHost(Sftp.model_validate(target), SftpLogin(PASSWORD))
    from sitegen.publish.s3 import S3Host  # noqa: PLC0415

    endpoint, _, bucket = rest.rpartition(":")
    return S3Host(S3(bucket=bucket, endpoint=endpoint), S3Login("id", "secret"))


def main(home: str, where: str, at: str, when: str) -> None:
    host = killing(host_at(where, Path(home)), int(at), after=when == "after")
    publish_ok(new(), a_way(host, Path(home)))


if __name__ == "__main__":
    main(*sys.argv[1:])
