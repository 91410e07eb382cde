"""What the preview answers a browser, without a socket."""

from pathlib import Path
from typing import Any

import pytest

from sitegen.build.quick import Outcome
from sitegen.preview.page import Showing, application


def status(desk: Path, path: str, host: str = "127.0.0.1:5500", *, ok: bool = True) -> str:
    said: list[str] = []

    def start(answer: str, _headers: list[tuple[str, str]]) -> Any:
        said.append(answer)

    list(application(Showing(desk, Outcome((), ok=ok)))({"PATH_INFO": path, "HTTP_HOST": host}, start))
    return said[0]


@pytest.mark.parametrize("ok", [True, False])
def test_what_browsers_ask_for_by_themselves_is_no_missing_page(ok: bool, tmp_path: Path) -> None:
    assert status(tmp_path, "/favicon.ico", ok=ok) == "204 No Content"


def test_only_files_of_the_desk_are_given_out(tmp_path: Path) -> None:
    desk = tmp_path / "desk"
    desk.mkdir()
    (desk / "index.html").write_text("<p>desk")
    (tmp_path / "desk2").mkdir()
    (tmp_path / "desk2" / "secret.html").write_text("secret")
    (desk / "away.html").symlink_to(tmp_path / "desk2" / "secret.html")
    assert status(desk, "/") == "200 OK"
    assert status(desk, "/nothing.html").startswith("404")
    assert status(desk, "/../desk2/secret.html").startswith("404")
    assert status(desk, "/%2e%2e/desk2/secret.html").startswith("404")
    assert status(desk, "/away.html").startswith("404")
    assert status(desk, "/", host="evil.example").startswith("403")
