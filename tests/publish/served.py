"""A static file server on the loopback, over HTTPS with a certificate made for the test, that can misbehave."""

import datetime as dt
import ipaddress
import ssl
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from typing import Any

from cryptography import x509
from cryptography.hazmat.primitives import hashes, serialization
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.x509.oid import NameOID

from sitegen.publish.address import Address


def make_certificate(folder: Path) -> tuple[Path, Path]:
    """Write a certificate for 127.0.0.1 that signs itself, and its key."""
    key = ec.generate_private_key(ec.SECP256R1())
    name = x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, "flowers.example")])
    now = dt.datetime.now(dt.UTC)
    built = (
        x509.CertificateBuilder()
        .subject_name(name)
        .issuer_name(name)
        .public_key(key.public_key())
        .serial_number(x509.random_serial_number())
        .not_valid_before(now - dt.timedelta(days=1))
        .not_valid_after(now + dt.timedelta(days=2))
        .add_extension(
            x509.SubjectAlternativeName([x509.IPAddress(ipaddress.ip_address("127.0.0.1"))]), critical=False
        )
        .add_extension(x509.BasicConstraints(ca=True, path_length=0), critical=True)
        .sign(key, hashes.SHA256())
    )
    certificate, private = folder / "certificate.pem", folder / "key.pem"
    certificate.write_bytes(built.public_bytes(serialization.Encoding.PEM))
    private.write_bytes(
        key.private_bytes(
            serialization.Encoding.PEM, serialization.PrivateFormat.PKCS8, serialization.NoEncryption()
        )
    )
    return certificate, private


@dataclass
class Habits:
    """How the server misbehaves; as it stands, not at all."""

    fallback: bool = False  # the same page for every name that is not there
    media: dict[str, str] = field(default_factory=dict)  # another type by ending
    onward: str = ""  # sends every reader on to there
    status: list[int] = field(default_factory=list)  # answers these before it behaves
    always: int = 0  # answers this to everything
    added: bytes = b""  # writes this into pages
    short: int = 0  # cuts so many answers short
    drop: int = 0  # hangs up on so many requests
    stale: dict[str, bytes] = field(default_factory=dict)  # gives out these from a cache
    asked: list[str] = field(default_factory=list)


class _Handler(SimpleHTTPRequestHandler):
    habits: Habits

    def do_GET(self) -> None:
        habits = self.habits
        habits.asked.append(self.path)
        if habits.drop:
            habits.drop -= 1
            self.close_connection = True
            return
        status = habits.status.pop(0) if habits.status else habits.always
        if habits.onward and not status:
            self.answer(301, b"", "text/plain", habits.onward)
        elif status:
            self.answer(status, b"refused", "text/plain")
        else:
            self.serve()

    def serve(self) -> None:
        path = Path(self.translate_path(self.path))
        path = path / "index.html" if path.is_dir() else path
        if not path.is_file():
            if self.habits.fallback:
                self.answer(200, b"<!doctype html><p>One page for all.", "text/html")
            else:
                self.answer(404, b"nothing", "text/plain")
            return
        media = self.habits.media.get(
            path.suffix, "text/html" if path.suffix == ".html" else "application/octet-stream"
        )
        data = self.habits.stale.get(self.path, path.read_bytes())
        self.answer(200, data + (self.habits.added if path.suffix == ".html" else b""), media)

    def answer(self, status: int, body: bytes, media: str, onward: str = "") -> None:
        self.send_response(status)
        self.send_header("Content-Type", media)
        self.send_header("Content-Length", str(len(body)))
        if onward:
            self.send_header("Location", onward)
        self.end_headers()
        if self.habits.short and status == 200:
            self.habits.short -= 1
            body = body[: len(body) // 2]
        self.wfile.write(body)

    def log_message(self, format: str, *args: Any) -> None:  # noqa: A002 - the name is the library's
        """Say nothing."""


class _Server(ThreadingHTTPServer):
    def handle_error(self, request: Any, client_address: Any) -> None:
        """A reader that hangs up is no fault of the test."""


@contextmanager
def serving(root: Path, certificate: tuple[Path, Path] | None) -> Iterator[tuple[str, Habits]]:
    """Serve *root* on the loopback; give its address and habits."""
    habits = Habits()
    kind = type("Handler", (_Handler,), {"habits": habits})
    root.mkdir(exist_ok=True)
    with _Server(("127.0.0.1", 0), lambda *args: kind(*args, directory=str(root))) as server:
        server.daemon_threads = True
        if certificate:
            context = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
            context.load_cert_chain(*certificate)
            server.socket = context.wrap_socket(
                server.socket, server_side=True, do_handshake_on_connect=False
            )
        thread = threading.Thread(target=server.serve_forever, args=(0.05,), daemon=True)
        thread.start()
        try:
            yield f"{'https' if certificate else 'http'}://127.0.0.1:{server.server_address[1]}/", habits
        finally:
            server.shutdown()
            thread.join(5)


@dataclass
class Web:
    """A folder and where it is served."""

    root: Path
    address: Address
    habits: Habits
