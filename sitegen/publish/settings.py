"""`publish.yaml`: where the sealed site goes. It may be shared, so it holds no secret."""

import re
from collections.abc import Iterator
from contextlib import suppress
from dataclasses import dataclass, replace
from pathlib import Path as FilePath
from urllib.parse import quote, urlsplit

from sitegen.check.shape import shape
from sitegen.load.nodes import read
from sitegen.load.tree import File, source_of
from sitegen.model.publish import S3, Publish, Sftp
from sitegen.publish.planted import masked, secrets_in
from sitegen.values.node import ABSENT, Map, Path, node_at, place_at
from sitegen.values.number import shorten
from sitegen.values.problem import Problem, has_errors

_WHY = "The sealed site is sent to where these lines say, and couples open it there."
_FINGERPRINT = re.compile(r"SHA256:[A-Za-z0-9+/]{43}=?")
_LOOPBACK = {"127.0.0.1", "localhost", "::1"}


@dataclass(frozen=True, slots=True)
class PublishSettings:
    """Where the site goes, and the address where couples open it, with a slash at its end."""

    target: FilePath | Sftp | S3
    address: str | None = None


def read_settings(file: File | None, content: FilePath) -> tuple[PublishSettings | None, list[Problem]]:
    """Read publish.yaml, or give the folder `published` beside *content* where there is none.

    With an error among the problems, nothing is given.
    """
    if file is None:
        return PublishSettings(content.resolve().parent / "published"), []
    source, problems = source_of(file)
    if source is None:
        return None, problems
    node, problems = read(source)
    if node is None:
        return None, problems
    hidden = list(secrets_in(node))
    written, more = shape(Publish, node)
    problems = [*problems, *(secret.problem for secret in hidden), *(_told(problem) for problem in more)]
    if written is not None:
        problems += _checked(written, node, content)
    problems = masked(problems, hidden)
    if written is None or has_errors(problems):
        return None, problems
    return _settings(written, content), problems


def _told(problem: Problem) -> Problem:
    return problem if problem.code == "key-unknown" else replace(problem, why=_WHY)


def _settings(written: Publish, content: FilePath) -> PublishSettings:
    address = written.address and written.address.rstrip("/") + "/"
    target = {"sftp": written.sftp, "s3": written.s3}.get(written.to)
    return PublishSettings(target or _folder(written, content), address)


def _folder(written: Publish, content: FilePath) -> FilePath:
    folder = FilePath(written.folder or "../published")
    with suppress(RuntimeError):  # nobody of that name: then a folder that is called so
        folder = folder.expanduser()
    return (content.resolve() / folder).resolve()


def _checked(written: Publish, node: Map, content: FilePath) -> list[Problem]:
    """Check what only all lines together say."""
    return [
        *_missing(written, node),
        *_address(written, node),
        *_host(written, node),
        *_outside(written, node, content),
    ]


def _missing(written: Publish, node: Map) -> Iterator[Problem]:
    place = place_at(node, ("to",)) if "to" in node.entries else place_at(node, ())
    if written.to in ("sftp", "s3") and written.to not in node.entries:
        example = {
            "sftp": "sftp: {host: …, user: …, path: …, host_key: SHA256:…}",
            "s3": "s3: {bucket: …, endpoint: https://…}",
        }
        yield Problem("key-missing", place, f'"{written.to}" is missing', _WHY, f"add {example[written.to]}")
    if written.to in ("sftp", "s3") and "address" not in node.entries:
        fix = "add address: https://flowers.example/proposals/"
        yield Problem("key-missing", place, '"address" is missing', _WHY, fix)


def _unreadable(node: Map, path: Path, what: str, fix: str) -> Problem:
    return Problem("value-unreadable", place_at(node, path), what, _WHY, fix)


def _address(written: Publish, node: Map) -> Iterator[Problem]:
    """Couples' browsers open a sealed page only over https; this computer alone may do without."""
    if written.address in (None, ABSENT):
        return
    address = str(written.address)
    if fault := _address_fault(address):
        yield _unreadable(node, ("address",), f'"{shorten(address)}" {fault[0]}', fault[1])


def _address_fault(address: str) -> tuple[str, str] | None:
    example = "write it as https://flowers.example/proposals/"
    try:
        parts = urlsplit(address)
        host, _ = parts.hostname, parts.port
    except ValueError:
        return "is not an address", example
    if parts.scheme not in ("http", "https") or not host or re.search(r"\s", address):
        return "is not an address", example
    if "@" in parts.netloc:
        return "names a user, and couples have no password", f"leave out what stands before @; {example}"
    if not parts.path.isascii():
        return (
            "has letters that an address cannot carry as they are",
            f"write it as {parts.scheme}://{parts.netloc}{quote(parts.path, safe='/%')}",
        )
    if parts.query or parts.fragment or "?" in address or "#" in address:
        return "has more than the folder's address", f"leave out what follows ? or #; {example}"
    if parts.scheme == "http" and host not in _LOOPBACK:
        return "is not secure, and browsers open a sealed page only over https", "write https:// in front"
    return None


def _host(written: Publish, node: Map) -> Iterator[Problem]:
    if written.sftp:
        host, port = written.sftp.host, written.sftp.port
        if host != ABSENT and not re.fullmatch(r"[\w.:-]+", host):
            fix = "write the bare name, such as files.flowers.example"
            yield _unreadable(node, ("sftp", "host"), f'"{shorten(host)}" is not a host\'s name', fix)
        if port > 65_535:
            yield _unreadable(node, ("sftp", "port"), f"there is no port {port}", "write 22, or leave it out")
        for found in (written.sftp.host_key or "").split():
            if not _FINGERPRINT.fullmatch(found) and found != ABSENT:
                fix = "write SHA256: and its 43 letters and digits, as your host shows them"
                what = f'"{shorten(found)}" is not a fingerprint'
                yield _unreadable(node, ("sftp", "host_key"), what, fix)
    region = written.s3.region if written.s3 else None
    if (
        region
        and region != ABSENT
        and not re.fullmatch(r"[A-Za-z0-9]([A-Za-z0-9-]{0,61}[A-Za-z0-9])?", region)
    ):
        fix = "write it as your host shows it, such as eu-central-1, or leave it out"
        yield _unreadable(node, ("s3", "region"), f'"{shorten(region)}" is not a region', fix)
    endpoint = written.s3.endpoint if written.s3 else None
    if endpoint and endpoint != ABSENT and (fault := _address_fault(endpoint)):
        fix = "write it as https://storage.example"
        yield _unreadable(node, ("s3", "endpoint"), f'"{shorten(endpoint)}" {fault[0]}', fix)


def _outside(written: Publish, node: Map, content: FilePath) -> Iterator[Problem]:
    if written.to != "folder" or node_at(node, ("folder",)) is None:
        return
    if fault := _folder_fault(_folder(written, content), content.resolve()):
        fix = "write a folder beside it, such as ../published"
        yield _unreadable(node, ("folder",), f"this folder {fault}", fix)


def _folder_fault(folder: FilePath, content: FilePath) -> str:
    """What is published may be served as it lies: then nothing else of hers may lie there."""
    if folder.is_relative_to(content):
        return "lies within the content folder"
    if content.is_relative_to(folder):
        return "holds the content folder, and whoever serves it gives out that and the keys as well"
    if folder.is_relative_to(content.parent / ".sitegen"):
        return "is where the keys lie"
    return "is the whole of your home folder" if FilePath.home().resolve().is_relative_to(folder) else ""
