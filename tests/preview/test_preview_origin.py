"""Only pages of this machine learn of saves."""

import pytest
from livereload.handlers import LiveReloadHandler

from sitegen.preview import serve


@pytest.mark.parametrize(
    ("origin", "let_in"),
    [
        ("http://127.0.0.1:5500", True),
        ("http://localhost:5500", True),
        ("http://localhost", True),
        ("http://[::1]:5500", True),
        ("https://evil.example", False),
        ("http://127.0.0.1.evil.example:5500", False),
        ("http://127.0.0.1@evil.example", False),
        ("null", False),
        ("", False),
    ],
)
def test_who_may_listen_for_saves(origin: str, let_in: bool) -> None:
    assert serve.HOST == "127.0.0.1"
    assert LiveReloadHandler.check_origin(object.__new__(LiveReloadHandler), origin) is let_in
