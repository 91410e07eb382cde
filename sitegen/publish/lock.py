"""One publisher at a time on this computer: two would take each other's pages for a stranger's."""

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from filelock import FileLock, Timeout

from sitegen.publish.fault import Fault, os_fault


@contextmanager
def one_publisher(folder: Path) -> Iterator[None]:
    """Hold the lock in *folder*; the system lets go of it when a run is killed. Raises `Fault`."""
    lock = FileLock(folder / "publish.lock", timeout=0)
    try:
        folder.mkdir(parents=True, exist_ok=True)
        lock.acquire()
    except Timeout:
        raise Fault("busy", "this computer") from None
    except OSError as error:
        raise os_fault(error, "this computer", str(folder)) from None
    try:
        yield
    finally:
        lock.release()
