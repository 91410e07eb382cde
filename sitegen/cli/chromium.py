"""Prints pages to PDF with a Chromium of this machine, over its debugging pipe: no network, no other library.

The Chrome DevTools Protocol over a pipe is JSON messages that end in a zero byte, read by the browser from
file descriptor 3 and written to 4 (chromedevtools.github.io/devtools-protocol, `--remote-debugging-pipe`).
"""

import base64
import json
import os
import select
import shutil
import subprocess
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

NAMED = "SITEGEN_CHROMIUM"
PATIENCE = 60  # seconds without a word from the browser
_PROGRAMS = (
    "chromium",
    "chromium-browser",
    "google-chrome",
    "google-chrome-stable",
    "microsoft-edge",
    "/Applications/Chromium.app/Contents/MacOS/Chromium",
    "/Applications/Google Chrome.app/Contents/MacOS/Google Chrome",
    "/Applications/Microsoft Edge.app/Contents/MacOS/Microsoft Edge",
)
_FLAGS = (
    "--headless",
    "--remote-debugging-pipe",
    "--disable-gpu",
    "--disable-extensions",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--no-first-run",
    "--no-default-browser-check",
)
_INCH = 25.4
_PAPERS = {"a4": (210 / _INCH, 297 / _INCH), "letter": (8.5, 11)}


class NotPrinted(Exception):
    """Why nothing could be printed, as a sentence."""


def find_chromium() -> str:
    """Give the program to print with: the one that the environment names, else one that is installed."""
    named = os.environ.get(NAMED)
    found = shutil.which(named) if named else next(filter(None, map(shutil.which, _PROGRAMS)), None)
    if found:
        return found
    if named:
        raise NotPrinted(f'{NAMED} names "{named}", which is no program here')
    raise NotPrinted(
        "no Chromium or Chrome was found to print with; install one, or name it in SITEGEN_CHROMIUM, "
        "or open the pages in any browser and print them there"
    )


@dataclass(slots=True)
class Printer:
    """A browser that is running, and the page it has open."""

    program: str
    process: "subprocess.Popen[bytes]"
    patience: int
    session: str = ""
    sent: int = 0
    read: bytearray = field(default_factory=bytearray)

    def open(self, page: Path) -> None:
        """Open *page* and wait until its pictures are there. Raises `NotPrinted`."""
        self._call("Page.navigate", url=page.resolve().as_uri())
        while self._message().get("method") != "Page.loadEventFired":
            pass

    def turn_to(self, sheet: str) -> None:
        """Turn the open page to one of its sheets, by its id; it is then the only one that is printed."""
        self._call("Runtime.evaluate", expression=f"location.hash = {json.dumps(sheet)}")

    def pdf(self, paper: str) -> bytes:
        """Print the open page on *paper*, `a4` or `letter`; margins are the page's own."""
        width, height = _PAPERS[paper]
        sides = dict.fromkeys(("marginTop", "marginBottom", "marginLeft", "marginRight"), 0)
        printed = self._call("Page.printToPDF", paperWidth=width, paperHeight=height, **sides)
        return base64.b64decode(printed["data"])

    def begin(self) -> None:
        """Make a page to work in."""
        target = self._call("Target.createTarget", url="about:blank")["targetId"]
        self.session = self._call("Target.attachToTarget", targetId=target, flatten=True)["sessionId"]
        self._call("Page.enable")

    def _call(self, method: str, **params: Any) -> dict[str, Any]:
        self.sent += 1
        said = {"id": self.sent, "method": method, "params": params}
        self._write({**said, "sessionId": self.session} if self.session else said)
        while True:
            answer = self._message()
            if answer.get("id") == self.sent:
                if "error" in answer:
                    raise NotPrinted(f"the browser refused {method}: {answer['error'].get('message')}")
                result: dict[str, Any] = answer["result"]
                return result

    def _write(self, message: dict[str, Any]) -> None:
        if self.process.stdin is None:
            raise ValueError("the browser was started without a pipe")
        try:
            self.process.stdin.write(json.dumps(message).encode() + b"\0")
            self.process.stdin.flush()
        except OSError:
            raise NotPrinted(self._ended()) from None

    def _message(self) -> dict[str, Any]:
        while b"\0" not in self.read:
            self.read += self._more()
        one, _, rest = bytes(self.read).partition(b"\0")
        self.read = bytearray(rest)
        message: dict[str, Any] = json.loads(one)
        return message

    def _more(self) -> bytes:
        if self.process.stdout is None:
            raise ValueError("the browser was started without a pipe")
        ready, _, _ = select.select([self.process.stdout], [], [], self.patience)
        if not ready:
            raise NotPrinted(f"the browser did not answer within {self.patience} seconds")
        more = os.read(self.process.stdout.fileno(), 1 << 20)
        if not more:
            raise NotPrinted(self._ended())
        return more

    def _ended(self) -> str:
        return f"the browser ended before it had printed; see whether {self.program} --headless starts"


@contextmanager
def printer(patience: int = PATIENCE) -> Iterator[Printer]:
    """Start a browser with a profile of its own, and end it whatever happens. Raises `NotPrinted`."""
    if os.name == "nt":
        raise NotPrinted("this works on Linux and macOS; open the pages in a browser and print them there")
    program = find_chromium()
    with tempfile.TemporaryDirectory(prefix="sitegen-", ignore_cleanup_errors=True) as profile:
        flags = [*_FLAGS, f"--user-data-dir={profile}"]
        if os.geteuid() == 0:
            flags.append("--no-sandbox")  # its sandbox refuses to run as root, as in a container
        # The shell lays the pipe on the two descriptors that the browser wants, and becomes the browser.
        shell = ["/bin/sh", "-c", 'exec "$@" 3<&0 4>&1 </dev/null >/dev/null', "sh", program, *flags]
        process = subprocess.Popen(  # noqa: S603 - a browser that was found here, and flags of our own
            shell, stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL
        )
        try:
            running = Printer(program, process, patience)
            running.begin()
            yield running
        finally:
            process.kill()
            process.communicate()
