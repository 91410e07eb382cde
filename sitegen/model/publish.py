"""What publish.yaml says."""

from typing import Literal

from sitegen.model.fields import PositiveWhole, Shape, Text


class Sftp(Shape):
    """A folder reached by SFTP; *host_key* is the fingerprint its host must show, or several with blanks."""

    host: Text
    port: PositiveWhole = 22
    user: Text
    path: Text
    host_key: Text | None = None

    @property
    def fingerprints(self) -> tuple[str, ...]:
        return tuple(part.rstrip("=") for part in (self.host_key or "").split())


class S3(Shape):
    """A bucket of S3-compatible storage; without *endpoint* the region's own."""

    bucket: Text
    endpoint: Text | None = None
    region: Text | None = None
    prefix: Text | None = None


class Publish(Shape):
    """Where the sealed site goes, and the *address* at which couples open it; else a folder here."""

    to: Literal["folder", "sftp", "s3"] = "folder"
    folder: Text | None = None
    address: Text | None = None
    sftp: Sftp | None = None
    s3: S3 | None = None
