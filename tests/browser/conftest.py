"""Pages for the tests of this folder."""

from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Page


@pytest.fixture(scope="module")
def _one_page(browser: Browser) -> Iterator[Page]:
    page = browser.new_page()
    yield page
    page.close()


@pytest.fixture
def blank(_one_page: Page) -> Page:
    """An empty page to run scripts in, with nothing left of what ran in it before."""
    _one_page.goto("about:blank")
    return _one_page
