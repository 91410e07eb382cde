"""Compares what is live with the receipt: has a host, or somebody at it, changed what was sent?"""

from dataclasses import dataclass
from functools import partial

from sitegen.publish import receipt as receipts
from sitegen.publish.fault import Fault, Stopped, stopped
from sitegen.publish.look import hashed
from sitegen.publish.reader import gives_out
from sitegen.publish.receipt import Standing
from sitegen.publish.retry import steadily
from sitegen.publish.site import blob_path, index_path
from sitegen.publish.way import HERE_ONLY, Moved, Progress, Way, quiet


@dataclass(frozen=True, slots=True)
class Verified:
    """How many files were compared, and a sentence for each that is not as it was sent."""

    page: str
    files: int
    differences: tuple[str, ...]
    notes: tuple[str, ...] = ()

    @property
    def sound(self) -> bool:
        return not self.differences


def verify(pid: str, way: Way, progress: Progress = quiet) -> Verified | Stopped:
    """Fetch everything that the receipt lists for *pid*, as a reader would, and compare; changes nothing."""
    try:
        return _compare(receipts.load(way.receipt).at(way.host.place, pid), way, progress)
    except Fault as fault:
        return stopped(fault)
    finally:
        way.host.close()


def _compare(standing: Standing, way: Way, progress: Progress) -> Verified:
    if not standing.current:
        raise Fault("never", way.page(standing.pid))
    found: list[str] = []
    files = _expected(standing)
    total = sum(size for _, _, size in files)
    done = 0
    for i, (path, sha, size) in enumerate(files):
        progress(Moved(i, len(files), done, total, path))
        try:
            steadily(partial(_same, way, path, sha), way.wait)
        except Fault as fault:
            if fault.kind in ("unreachable", "certificate", "denied"):
                raise  # it would be said of every file
            found.append(stopped(fault).sentence)
        done += size
    progress(Moved(len(files), len(files), done, total, ""))
    notes = () if way.address else (HERE_ONLY,)
    return Verified(way.page(standing.pid), len(files), tuple(dict.fromkeys(found)), notes)


def _expected(standing: Standing) -> list[tuple[str, str, int]]:
    """List path, SHA-256 and size of what should be there; the page's size is not kept."""
    used = () if standing.withdrawn else standing.editions[-1].blobs
    blobs = [(name, standing.blobs[name]) for name in used if name in standing.blobs]
    page = (index_path(standing.pid), standing.current, 0)
    return [page, *((blob_path(standing.pid, name), sent.sha256, sent.size) for name, sent in blobs)]


def _same(way: Way, path: str, sha: str) -> None:
    if way.address:
        gives_out(way.address, path.removesuffix("index.html"), sha)
    elif hashed(way.host, path) != sha:
        raise Fault("differs", way.host.place, path)
