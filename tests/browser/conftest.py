"""A real Chromium for the tests of this folder that ask for `browser`; skipped only where none is installed."""

import os
import shutil
from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Page, sync_playwright

CHROMIUM = next(filter(None, map(shutil.which, ("chromium", "chromium-browser", "google-chrome"))), None)
ARGUMENTS = [
    "--no-sandbox",
    "--disable-gpu",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    if CHROMIUM is None and not os.environ.get("CI"):
        pytest.skip("no Chromium is installed")
    with sync_playwright() as playwright:
        started = playwright.chromium.launch(executable_path=CHROMIUM, args=ARGUMENTS)
        yield started
        started.close()


@pytest.fixture
def blank(browser: Browser) -> Iterator[Page]:
    """An empty page to run scripts in."""
    page = browser.new_page()
    yield page
    page.close()
