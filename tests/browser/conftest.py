"""Pages for the tests of this folder."""

from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Page


@pytest.fixture
def blank(browser: Browser) -> Iterator[Page]:
    """An empty page to run scripts in."""
    page = browser.new_page()
    yield page
    page.close()
