"""A small relay in front of a real storage server: it hands requests on, and stumbles when told to."""

import http.client
import socket
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from typing import Any
from urllib.parse import urlsplit

_PASSED_ON = ("Content-Type", "Content-Length", "ETag", "Last-Modified", "Cache-Control", "Location")


@dataclass
class Stumbles:
    """What happens to the next requests, one each: a status, `reset`, or `short`."""

    coming: list[int | str] = field(default_factory=list)
    always: int = 0
    seen: list[str] = field(default_factory=list)
    headers: list[dict[str, str]] = field(default_factory=list)


class _Relay(BaseHTTPRequestHandler):
    protocol_version = "HTTP/1.1"
    # An answer in two small packets would wait some 40 ms for the first to be acknowledged.
    disable_nagle_algorithm = True
    stumbles: Stumbles
    behind: str

    def relay(self) -> None:
        body = self.rfile.read(int(self.headers.get("Content-Length") or 0))
        self.stumbles.seen.append(f"{self.command} {self.path}")
        self.stumbles.headers.append(dict(self.headers.items()))
        what = self.stumbles.coming.pop(0) if self.stumbles.coming else self.stumbles.always
        if what == "reset":
            self.connection.shutdown(socket.SHUT_RDWR)
            self.close_connection = True
        elif isinstance(what, int) and what:
            self.answer(what, [("Content-Length", "0")], b"", 0)
        else:
            self.hand_on(body, short=what == "short")

    do_GET = do_PUT = do_HEAD = do_DELETE = relay  # noqa: N815 - the names are the library's

    def hand_on(self, body: bytes, *, short: bool) -> None:
        where = urlsplit(self.behind)
        connection = http.client.HTTPConnection(str(where.hostname), where.port, timeout=20)
        try:
            connection.request(self.command, self.path, body, dict(self.headers.items()))
            got = connection.getresponse()
            data = got.read()
        finally:
            connection.close()
        kept = [(name, got.headers[name]) for name in _PASSED_ON if got.headers[name] is not None]
        if self.command != "HEAD" and "Content-Length" not in dict(kept):
            kept.append(("Content-Length", str(len(data))))
        self.answer(got.status, kept, data, len(data) // 2 if short else len(data))

    def answer(self, status: int, headers: list[tuple[str, str]], data: bytes, count: int) -> None:
        self.send_response(status)
        for name, value in headers:
            self.send_header(name, value)
        self.end_headers()
        self.wfile.write(data[:count])
        if count < len(data):
            self.close_connection = True

    def log_message(self, format: str, *args: Any) -> None:  # noqa: A002 - the name is the library's
        """Say nothing."""


class _Server(ThreadingHTTPServer):
    def handle_error(self, request: Any, client_address: Any) -> None:
        """A client that hangs up is no fault of the test."""


@contextmanager
def stumbling(behind: str) -> Iterator[tuple[str, Stumbles]]:
    """Relay to *behind*; give the relay's own address."""
    stumbles = Stumbles()
    kind = type("Relay", (_Relay,), {"stumbles": stumbles, "behind": behind})
    with _Server(("127.0.0.1", 0), kind) as server:
        server.daemon_threads = True
        thread = threading.Thread(target=server.serve_forever, args=(0.05,), daemon=True)
        thread.start()
        try:
            yield f"http://127.0.0.1:{server.server_address[1]}", stumbles
        finally:
            server.shutdown()
            thread.join(5)
