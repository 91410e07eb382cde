"""Small sites in a toy seal: a page that names its blobs by SHA-256, so that opening it reads every byte."""

import json
from collections.abc import Callable, Sequence
from hashlib import sha256
from pathlib import Path

from sitegen.publish.address import Address
from sitegen.publish.folder import FolderHost
from sitegen.publish.host import Host
from sitegen.publish.run import Published, publish
from sitegen.publish.site import SealedSite
from sitegen.publish.way import Way

PID = "0123456789abcdefghjkmnpqrs"
OTHER_PID = "zzzzzzzzzzzzzzzzzzzzzzzzzz"
NOON = 2_000_000_000
DAY = 24 * 60 * 60
NOTICE = b"<!doctype html><title>A private page</title><p>This page was withdrawn."
SHARED = {
    "404.html": b"<!doctype html><p>Nothing here.",
    "_headers": b"/*\n  X-Robots-Tag: noindex\n",
    ".nojekyll": b"",
}

_DIGITS = "0123456789abcdefghjkmnpqrstvwxyz"


class Broken(Exception):
    """A reader saw something that is neither the old page nor the new one."""


def blob_name(data: bytes) -> str:
    """26 symbols of Crockford's base 32 from the SHA-256, as sealing names its blobs."""
    number = int.from_bytes(sha256(data).digest()[:17], "big") >> 6
    return "b/" + "".join(_DIGITS[(number >> (5 * i)) & 31] for i in reversed(range(26))) + ".bin"


def photo(seed: str, size: int = 3000) -> bytes:
    return (sha256(seed.encode()).digest() * (size // 32 + 1))[:size]


def page(word: str, blobs: dict[str, bytes]) -> bytes:
    named = {name: sha256(data).hexdigest() for name, data in sorted(blobs.items())}
    return b"<!doctype html>" + json.dumps({"word": word, "blobs": named}).encode()


def make_site(
    word: str, photos: Sequence[bytes] = (), pid: str = PID, shared: dict[str, bytes] | None = None
) -> SealedSite:
    blobs = {blob_name(data): data for data in photos}
    return SealedSite(pid, page(word, blobs), blobs, SHARED if shared is None else shared)


def read_word(index: bytes, fetch: Callable[[str], bytes | None]) -> str:
    """Open a page as a reader: its word, once every blob that it names is there and whole."""
    try:
        said = json.loads(index.removeprefix(b"<!doctype html>"))
    except ValueError:
        raise Broken("the page is torn") from None
    for name, sha in said["blobs"].items():
        data = fetch(name)
        if data is None or sha256(data).hexdigest() != sha:
            raise Broken(f"{name} is missing or torn")
    return str(said["word"])


def opens(index: bytes, fetch: Callable[[str], bytes | None]) -> str | None:
    """What publishing is handed: None where the page opens."""
    try:
        read_word(index, fetch)
    except Broken as broken:
        return str(broken)
    return None


def view(read: Callable[[str], bytes | None], pid: str = PID) -> str | None:
    """What a reader sees: a word, `withdrawn`, or None where there is no page; raises Broken."""
    index = read(f"{pid}/index.html")
    if index is None:
        return None
    return "withdrawn" if index == NOTICE else read_word(index, lambda name: read(f"{pid}/{name}"))


def in_folder(root: Path) -> Callable[[str], bytes | None]:
    def read(path: str) -> bytes | None:
        return (root / path).read_bytes() if (root / path).is_file() else None

    return read


def files_in(root: Path) -> dict[str, bytes]:
    return {
        path.relative_to(root).as_posix(): path.read_bytes()
        for path in sorted(root.rglob("*"))
        if path.is_file()
    }


class Waits(list[int]):
    """Stands in for waiting: notes how long it would have been."""

    def __call__(self, seconds: int) -> None:
        self.append(seconds)


def a_way(
    host: Host, home: Path, address: Address | None = None, now: int = NOON, *, lags: bool = False
) -> Way:
    return Way(host, address, home / "receipts", "fern-hollow", now, Waits(), lags)


def waited(way: Way) -> list[int]:
    assert isinstance(way.wait, Waits)
    return list(way.wait)


def publish_ok(site: SealedSite, way: Way, *, take_over: bool = False, recheck: bool = False) -> Published:
    """Publish, which must go well."""
    done = publish(site, way, opens, take_over=take_over, recheck=recheck)
    assert isinstance(done, Published), done
    return done


def folder_way(home: Path, now: int = NOON) -> Way:
    return a_way(FolderHost(home / "site"), home, now=now)
