"""One build at a time: two runs that swap the same folder would lose each other's pages."""

from collections.abc import Iterator
from contextlib import contextmanager

from filelock import FileLock, Timeout

from sitegen.build.settings import Settings

_SECONDS = 60


@contextmanager
def locked(settings: Settings) -> Iterator[None]:
    """Hold the lock of the content's folder. Raises OSError where another build does not end."""
    settings.home.mkdir(parents=True, exist_ok=True)
    ignored = settings.home / ".gitignore"
    if not ignored.exists():
        # What is kept here is private or can be made again: it never belongs in a shared history.
        ignored.write_text("*\n", encoding="utf-8")
    try:
        with FileLock(settings.home / "build.lock", timeout=_SECONDS):
            yield
    except Timeout:
        raise OSError(None, f"another build has been running for {_SECONDS} seconds") from None
