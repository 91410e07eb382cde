"""A real Chromium for the tests of this folder that ask for `browser`; skipped only where none is installed."""

from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Page, sync_playwright

from tests.chromium import ARGUMENTS, CHROMIUM, MAY_SKIP


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    if MAY_SKIP:
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
