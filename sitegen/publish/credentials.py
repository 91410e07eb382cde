"""Secrets of hosts: from the environment or the system's keyring, never from a file that could be shared.

Nothing here prints: what holds a secret shows nothing of it.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field

Lookup = Callable[[str], str | None]

SERVICE = "sitegen"
WHERE = (
    "set it as {name} in the environment, or keep it in the system's keyring under sitegen and the same name"
)


@dataclass(frozen=True, slots=True)
class SftpLogin:
    """A key file and its passphrase, or a password; with neither, the agent and the user's own keys."""

    password: str | None = field(default=None, repr=False)
    key_file: str | None = None
    passphrase: str | None = field(default=None, repr=False)


@dataclass(frozen=True, slots=True)
class S3Login:
    """An access key of S3-compatible storage."""

    key_id: str = field(repr=False)
    secret: str = field(repr=False)
    token: str | None = field(default=None, repr=False)


def lookup(environ: Mapping[str, str], ring: Callable[[str, str], str | None] | None = None) -> Lookup:
    """Look in *environ* first, then in *ring* (service and name to secret, as keyrings have it)."""

    def find(name: str) -> str | None:
        return environ.get(name) or (ring(SERVICE, name) if ring else None)

    return find


def sftp_login(find: Lookup) -> SftpLogin:
    return SftpLogin(find("SITEGEN_SFTP_PASSWORD"), find("SITEGEN_SFTP_KEY"), find("SITEGEN_SFTP_PASSPHRASE"))


def s3_login(find: Lookup) -> S3Login | None:
    """Give the key, by our own names or the ones common for such storage; None where there is none."""
    for key_id, secret in (
        ("SITEGEN_S3_KEY_ID", "SITEGEN_S3_SECRET"),
        ("AWS_ACCESS_KEY_ID", "AWS_SECRET_ACCESS_KEY"),
    ):
        found = find(key_id), find(secret)
        if found[0] and found[1]:
            return S3Login(
                found[0], found[1], find("AWS_SESSION_TOKEN") if key_id.startswith("AWS") else None
            )
    return None
