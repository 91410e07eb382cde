"""The page's own scripts, joined as a page carries them, run by Node or by a real Chromium."""

import json
import os
import shutil
import subprocess
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import Any

import pytest
from playwright.sync_api import Browser, Page

from sitegen.render.scripts import joined

MODULES = ("link.js", "recovered.js", "envelope.js", "open.js")
NODE = shutil.which("node")

Run = Callable[..., Any]
"""Runs the body of an async function that may use the scripts, `given`, and the helpers below."""

_HELPERS = """
const unhex = (text) => Uint8Array.from(text.match(/../g) ?? [], (pair) => parseInt(pair, 16));
const hex = (bytes) => Array.from(bytes, (byte) => byte.toString(16).padStart(2, "0")).join("");
const linkOf = ({ kind, pid, secret }) => ({ kind, pid: unhex(pid), secret: unhex(secret) });
"""


def _function(body: str) -> str:
    return f"async (given) => {{\n{joined(*MODULES)}\n{_HELPERS}\n{body}\n}}"


def in_node(body: str, given: Any = None) -> Any:
    if NODE is None and not os.environ.get("CI"):
        pytest.skip("no Node is installed")
    script = f"const run = {_function(body)};\nconsole.log(JSON.stringify(await run({json.dumps(given)})));"
    done = subprocess.run(
        [NODE or "node", "--input-type=module"], input=script, capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, done.stderr
    return json.loads(done.stdout)


@contextmanager
def in_chromium(browser: Browser, origin: str = "https://proposal.example") -> Iterator[Run]:
    """A page of *origin*, answered here: nothing leaves the machine."""
    page = browser.new_page()
    page.route("**/*", lambda route: route.fulfill(content_type="text/html", body="<title>.</title>"))
    page.goto(f"{origin}/")
    yield _in(page)
    page.close()


def in_either(request: pytest.FixtureRequest) -> Iterator[Run]:
    """Give what the fixture's parameter names, `node` or `chromium`, to run scripts in."""
    if request.param == "node":
        yield in_node
    else:
        with in_chromium(request.getfixturevalue("browser")) as inside:
            yield inside


BOTH = ["node", pytest.param("chromium", marks=pytest.mark.browser)]
"""The parameters of such a fixture."""


def _in(page: Page) -> Run:
    def run(body: str, given: Any = None) -> Any:
        return page.evaluate(_function(body), given)

    return run
