"""Takes an event down: a notice in the page's place, blobs deleted at once, and a look whether they are gone.

What somebody has opened or saved before stays with them; nothing here can
change that, and nothing here says so.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import partial

from sitegen.publish import receipt as receipts
from sitegen.publish.fault import Fault, Stopped, stopped
from sitegen.publish.host import read_back
from sitegen.publish.lock import one_publisher
from sitegen.publish.look import look
from sitegen.publish.reader import gives_out
from sitegen.publish.receipt import Standing
from sitegen.publish.retry import steadily
from sitegen.publish.site import blob_path, check_pid, digest, index_path
from sitegen.publish.standing import intending, taken_down
from sitegen.publish.way import Moved, Progress, Way, elsewhere, quiet


@dataclass(frozen=True, slots=True)
class Withdrawn:
    """The notice stands at *page*, *deleted* files are gone; *still* names what still answers.

    *again*: it was down already.
    """

    page: str
    deleted: int
    still: tuple[str, ...]
    notes: tuple[str, ...] = ()
    again: bool = False


def withdraw(pid: str, notice: bytes, way: Way, progress: Progress = quiet) -> Withdrawn | Stopped:
    """Take *pid* down at once, whoever wrote what is there: *notice* is the plain page that says so.

    Raises ValueError where *pid* is no sealed folder's name.
    """
    check_pid(pid)
    try:
        with one_publisher(way.receipts):
            return _withdraw(pid, notice, way, progress)
    except Fault as fault:
        return stopped(fault, "Run it again: it carries on where it stopped.")
    finally:
        way.host.close()


def _withdraw(pid: str, notice: bytes, way: Way, progress: Progress) -> Withdrawn:
    kept = receipts.load(way.receipt)
    standing = kept.at(way.host.place, pid)
    seen = steadily(lambda: look(way.host, pid, ()), way.wait)
    if seen.index is None and not seen.blobs and not (standing.current or standing.pending):
        raise Fault("never", way.page(pid))
    again = seen.index == digest(notice) and not seen.blobs and standing.withdrawn == digest(notice)
    base = way.address.base if way.address else standing.address
    standing = intending(standing, digest(notice), {}, base)
    receipts.save(way.receipt, kept.having(standing))
    _put_notice(pid, notice, way)
    paths = [*(blob_path(pid, name) for name in seen.blobs), *seen.strays]
    _delete(paths, way, progress)
    still, notes = _still_there({*paths, *_once_sent(standing)}, pid, digest(notice), way)
    receipts.save(way.receipt, kept.having(taken_down(standing, digest(notice))))
    notes = (*notes, *elsewhere(kept, way.host.place, pid))
    return Withdrawn(way.page(pid), len(paths), still, notes, again)


def _put_notice(pid: str, notice: bytes, way: Way) -> None:
    def act() -> None:
        way.host.replace(index_path(pid), notice)
        read_back(way.host, index_path(pid), notice)

    steadily(act, way.wait)


def _delete(paths: list[str], way: Way, progress: Progress) -> None:
    for i, path in enumerate(paths):
        progress(Moved(i, len(paths), 0, 0, path))
        steadily(partial(way.host.delete, path), way.wait)
    progress(Moved(len(paths), len(paths), 0, 0, ""))


def _once_sent(standing: Standing) -> Iterator[str]:
    return (blob_path(standing.pid, name) for name in standing.blobs)


def _still_there(
    paths: Iterable[str], pid: str, notice: str, way: Way
) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Name what still answers, through the address where there is one; and say what could not be asked."""
    try:
        still = [path for path in sorted(paths) if steadily(partial(_answers, path, way), way.wait)]
        page = [] if _notice_shown(pid, notice, way) else [f"{pid}/"]
    except Fault as fault:
        return (), (f"Whether it is gone could not be asked. {stopped(fault).sentence}",)
    base = way.address.base if way.address else f"{way.host.place}/"
    return tuple(base + path for path in (*page, *still)), ()


def _answers(path: str, way: Way) -> bool:
    if way.address is None:
        return way.host.size(path) is not None
    answer = way.address.get(path)
    if answer.status >= 500:
        raise Fault("again", way.address.base, f"status {answer.status}")
    return answer.status < 300


def _notice_shown(pid: str, notice: str, way: Way) -> bool:
    address = way.address
    if address is None:
        return True
    try:
        steadily(lambda: gives_out(address, f"{pid}/", notice), way.wait)
    except Fault as fault:
        if fault.kind in ("unreachable", "certificate", "again"):
            raise
        return False
    return True
