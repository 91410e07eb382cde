"""Tells when anything in the watched folders was saved, added or removed."""

from collections.abc import Callable, Sequence
from pathlib import Path

from livereload.watcher import Watcher
from tornado.ioloop import PeriodicCallback

from sitegen.build.keys import stamp

_EVERY_MS = 200


class FolderWatcher(Watcher):  # type: ignore[misc]  # livereload has no types
    """Looks at names, sizes and times five times a second.

    The library's own watcher looks every 800 ms and leaves out whatever is
    saved within three seconds of the last reload, so that a second save would
    never show.
    """

    def __init__(self, folders: Sequence[Path], changed: Callable[[], None]) -> None:
        super().__init__()
        self.folders = folders
        self.changed = changed
        self.last = stamp(folders)

    def start(self, _callback: Callable[[], None]) -> bool:
        """Take over the watching from the library."""
        PeriodicCallback(self.look, _EVERY_MS).start()
        return True

    def look(self) -> None:
        """Call *changed* where a look differs from the one before."""
        try:
            now = stamp(self.folders)
        except OSError:  # a file went while it was looked at: the next look sees it
            return
        if now != self.last:
            self.last = now
            self.changed()
