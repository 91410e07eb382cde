"""What stands at the host now, as a value."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from sitegen.publish.host import Host
from sitegen.publish.site import BLOB, PART, blob_folder, digest, index_path


@dataclass(frozen=True, slots=True)
class Seen:
    """The page's SHA-256 or None, blobs and left-over parts by size, shared files by SHA-256."""

    index: str | None
    blobs: Mapping[str, int]
    strays: Mapping[str, int]
    site: Mapping[str, str]


def look(host: Host, pid: str, shared: Iterable[str]) -> Seen:
    """Look at one event's folder, and at the files in *shared* beside it. Raises `Fault`."""
    folder = blob_folder(pid)
    inside = host.list(folder)
    strays = {f"{folder}/{one.name}": one.size for one in inside if PART.fullmatch(one.name)}
    strays |= {f"{pid}/{one.name}": one.size for one in host.list(pid) if PART.fullmatch(one.name)}
    blobs = {f"b/{one.name}": one.size for one in inside if BLOB.fullmatch(f"b/{one.name}")}
    site = {name: sha for name in shared if (sha := hashed(host, name)) is not None}
    return Seen(hashed(host, index_path(pid)), blobs, strays, site)


def hashed(host: Host, path: str) -> str | None:
    data = host.read(path)
    return None if data is None else digest(data)
