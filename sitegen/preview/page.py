"""Answers the browser: files of the desk, or the problems while there are any."""

import html
import mimetypes
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from pathlib import Path
from typing import Any
from urllib.parse import unquote

from sitegen.build.quick import Outcome
from sitegen.report import count, text

_LOCAL = {"127.0.0.1", "localhost", "[::1]"}
_HTML = "text/html; charset=utf-8"
_PAGE = """<!doctype html>
<html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width">
<title>{title}</title><style>
body{{font:16px/1.5 system-ui,sans-serif;margin:2rem auto;max-width:60rem;padding:0 1rem}}
:root{{color-scheme:light dark}}
pre{{white-space:pre-wrap;overflow-wrap:anywhere;border-left:3px solid #9b2617;padding-left:1rem}}
</style></head><body><h1>{title}</h1><p>{lead}</p>{blocks}</body></html>
"""


@dataclass(slots=True)
class Showing:
    """What is shown now: the desk's folder, and how the last build ended."""

    desk: Path
    outcome: Outcome


StartResponse = Callable[[str, list[tuple[str, str]]], Any]


def application(showing: Showing) -> Callable[[dict[str, Any], StartResponse], Iterable[bytes]]:
    """Give the WSGI application that shows *showing*, whatever it holds at the time of a request."""

    def answer(environ: dict[str, Any], start: StartResponse) -> Iterable[bytes]:
        if not is_local(str(environ.get("HTTP_HOST", ""))):
            # A page elsewhere could otherwise read the desk through a name that leads to this machine.
            return _send(start, "403 Forbidden", "text/plain; charset=utf-8", b"Only on this machine.\n")
        path = unquote(str(environ.get("PATH_INFO", "/")))
        if path == "/favicon.ico":
            return _send(start, "204 No Content", _HTML, b"")  # browsers ask for it by themselves
        if not showing.outcome.ok and Path(path).suffix.lower() not in {".webp", ".jpeg"}:
            page = problems_page(showing.outcome).encode()
            return _send(start, "200 OK", _HTML, page)
        return _file(showing.desk, path, start)

    return answer


def is_local(host: str) -> bool:
    """Whether *host*, with or without a port, is a name of this machine."""
    return (host if host in _LOCAL else host.rsplit(":", 1)[0]) in _LOCAL


def problems_page(outcome: Outcome) -> str:
    """The problems as a page: what is wrong, and that it goes away by itself."""
    errors = [found for found in outcome.findings if found.severity == "error"]
    blocks = "".join(f"<pre>{html.escape(text(found))}</pre>" for found in errors)
    lead = "Nothing was written. Mend these and save: the page comes back by itself."
    return _PAGE.format(title=html.escape(count(errors)), lead=lead, blocks=blocks)


def _file(desk: Path, path: str, start: StartResponse) -> Iterable[bytes]:
    wanted = (desk / path.lstrip("/")).resolve()
    if wanted.is_dir():
        wanted /= "index.html"
    if not wanted.is_relative_to(desk.resolve()) or not wanted.is_file():
        return _send(
            start,
            "404 Not Found",
            "text/html; charset=utf-8",
            b"<p>There is no such page. <a href=/>Desk</a>",
        )
    kind = mimetypes.guess_type(wanted.name)[0] or "application/octet-stream"
    kind = f"{kind}; charset=utf-8" if kind.startswith("text/") else kind
    return _send(start, "200 OK", kind, wanted.read_bytes())


def _send(start: StartResponse, status: str, kind: str, body: bytes) -> Iterable[bytes]:
    start(
        status, [("Content-Type", kind), ("Cache-Control", "no-store"), ("X-Content-Type-Options", "nosniff")]
    )
    return [body]
