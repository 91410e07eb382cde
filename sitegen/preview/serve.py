"""Serves the desk and rebuilds it; requests wait for the build in hand, browsers for its end."""

import logging
import time
from collections.abc import Callable
from dataclasses import replace

from livereload import Server
from livereload.handlers import LiveReloadHandler

from sitegen.build.keys import theme_folders
from sitegen.build.lock import locked
from sitegen.build.quick import DESK, Outcome, survey, unchanged
from sitegen.build.run import build
from sitegen.build.settings import Settings
from sitegen.preview.page import Showing, application
from sitegen.preview.watch import FolderWatcher
from sitegen.report import whole

Say = Callable[[str], None]


class _Quiet(Server):  # type: ignore[misc]  # livereload has no types
    """The library's server without its own lines between ours."""

    def _setup_logging(self) -> None:
        logging.getLogger("tornado.access").setLevel(logging.ERROR)


def rebuild(settings: Settings) -> Outcome:
    """Build what is stale; pictures are made quickly, as this is only looked at here."""
    found = survey(settings)
    if found.nothing_to_do:
        return unchanged(found)
    with locked(settings):
        return build(found)


def serve(settings: Settings, port: int, say: Say, *, open_browser: bool) -> int:
    """Serve until interrupted. Listens on 127.0.0.1 alone: the desk holds costs."""
    everything = replace(settings, events=(), quick=True)
    showing = Showing(settings.out / DESK, _timed(everything, say))

    def changed() -> None:
        showing.outcome = _timed(everything, say)
        LiveReloadHandler.reload_waiters("*")

    folders = (settings.content, *(folder for folder in theme_folders(settings) if folder.is_dir()))
    server = _Quiet(application(showing), FolderWatcher(folders, changed))
    say(f"The desk is at http://127.0.0.1:{port}/ ; every save shows by itself. Ctrl-C ends it.")
    server.serve(port=port, host="127.0.0.1", debug=False, open_url_delay=1 if open_browser else None)
    return 0


def _timed(settings: Settings, say: Say) -> Outcome:
    begun = time.monotonic()
    try:
        outcome = rebuild(settings)
    except OSError as error:
        say(f"{error.strerror or error}; the pages are as before")
        return Outcome((), ok=True)
    if outcome.findings:
        say(whole(outcome.findings, "" if outcome.ok else "The pages are as before."))
    say(f"{len(outcome.made)} built, {len(outcome.kept)} as before, in {time.monotonic() - begun:.2f} s")
    return outcome
