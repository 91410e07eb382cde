"""Serves the desk and rebuilds it; requests wait for the build in hand, browsers for its end."""

import logging
import socket
import threading
import time
import webbrowser
from collections.abc import Callable
from dataclasses import replace
from urllib.parse import urlsplit

from livereload import Server
from livereload.handlers import LiveReloadHandler

from sitegen.build.keys import theme_folders
from sitegen.build.lock import locked
from sitegen.build.quick import DESK, Outcome, mended, survey, unchanged
from sitegen.build.run import build
from sitegen.build.settings import Settings
from sitegen.preview.page import Showing, application, is_local
from sitegen.preview.watch import FolderWatcher
from sitegen.report import whole

HOST = "127.0.0.1"
OUTSIDE = 3  # the exit code for what failed outside of the content
Say = Callable[[str], None]


def _from_here(_handler: LiveReloadHandler, origin: str) -> bool:
    """Whether a page of this machine asks to be told of saves; the library lets any page of the web in."""
    return is_local(urlsplit(origin).netloc)


LiveReloadHandler.check_origin = _from_here


class _Quiet(Server):  # type: ignore[misc]  # livereload has no types
    """The library's server without its own lines between ours."""

    def _setup_logging(self) -> None:
        logging.getLogger("tornado.access").setLevel(logging.ERROR)


def _taken(port: int) -> bool:
    with socket.socket() as probe:
        return probe.connect_ex((HOST, port)) == 0


def rebuild(settings: Settings) -> Outcome:
    """Build what is stale; pictures are made quickly, as this is only looked at here."""
    found = survey(settings)
    if found.nothing_to_do:
        return unchanged(found)
    with locked(settings):
        return build(mended(settings))


def serve(settings: Settings, port: int, say: Say, *, open_browser: bool) -> int:
    """Serve until interrupted. Listens on 127.0.0.1 alone: the desk holds costs.

    Where *settings* name an event, its page is opened, else the desk. Raises `NoSuchEvent`.
    """
    if _taken(port):
        say(f"Port {port} is taken, perhaps by another preview: end that one, or add --port {port + 1}")
        return OUTSIDE
    page = "".join(f"{event}/proposal.html" for event in survey(settings).wanted if settings.events)
    everything = replace(settings, events=(), quick=True)
    showing = Showing(settings.out / DESK, _timed(everything, say))

    def changed() -> None:
        showing.outcome = _timed(everything, say)
        LiveReloadHandler.reload_waiters("*")

    folders = (settings.content, *(folder for folder in theme_folders(settings) if folder.is_dir()))
    server = _Quiet(application(showing), FolderWatcher(folders, changed))
    say(f"The desk is at http://{HOST}:{port}/ ; every save shows by itself. Ctrl-C ends it.")
    if open_browser:
        threading.Timer(1, webbrowser.open, [f"http://{HOST}:{port}/{page}"]).start()
    server.serve(port=port, host=HOST, debug=False)
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
