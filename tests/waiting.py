"""Waiting for a page from outside: a page's own policy forbids the polling that the browser driver would do in it."""

import time
from typing import Any

from playwright.sync_api import Page

_SECONDS = 30


def until(page: Page, expression: str, argument: Any = None) -> None:
    """Wait until *expression* is true in *page*."""
    ends = time.monotonic() + _SECONDS
    while not page.evaluate(expression, argument):
        if time.monotonic() > ends:
            raise AssertionError(f"never came true: {expression}")
        page.wait_for_timeout(20)
