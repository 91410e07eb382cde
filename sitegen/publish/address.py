"""The public address, read as a couple's browser would: over HTTPS, following and remembering nothing."""

import ssl
from dataclasses import dataclass
from email.message import Message
from http.client import HTTPException, IncompleteRead
from pathlib import Path
from typing import IO
from urllib.error import HTTPError, URLError
from urllib.parse import urlsplit
from urllib.request import (
    HTTPRedirectHandler,
    HTTPSHandler,
    OpenerDirector,
    ProxyHandler,
    Request,
    build_opener,
)

from sitegen.publish.fault import Fault

_SECONDS = 20
# The largest sealed file is 4 MiB of photo and what surrounds it.
_MOST = 8 * 1024 * 1024
_LOOPBACK = {"127.0.0.1", "localhost", "::1"}
_HEADERS = {"User-Agent": "sitegen", "Cache-Control": "no-cache", "Accept-Encoding": "identity"}


@dataclass(frozen=True, slots=True)
class Answer:
    """What a reader is given: status, bare type, bytes, and where readers are sent on to."""

    status: int
    media: str
    body: bytes
    onward: str = ""


@dataclass(frozen=True, slots=True)
class Address:
    """Where couples open their pages: *base* ends with a slash; *ca* is a bundle of certificates to trust."""

    base: str
    ca: Path | None = None

    @property
    def secure(self) -> bool:
        """Whether browsers open sealed pages here: https, or this computer itself."""
        return self.base.startswith("https://") or self.loopback

    @property
    def loopback(self) -> bool:
        return urlsplit(self.base).hostname in _LOOPBACK

    def get(self, path: str) -> Answer:
        """Fetch *path* below the base. Raises `Fault` where there is no answer at all."""
        request = Request(self.base + path, headers=_HEADERS)  # noqa: S310 - settings allow http and https only
        try:
            return self._ask(request)
        except (OSError, HTTPException) as error:
            raise _sorted(error, self.base, path) from None

    def _ask(self, request: Request) -> Answer:
        try:
            with self._opener().open(request, timeout=_SECONDS) as answer:
                return _answer(answer.status, answer.headers, answer)
        except HTTPError as error:
            with error:
                return _answer(error.code, error.headers, error)

    def _opener(self) -> OpenerDirector:
        context = ssl.create_default_context(cafile=str(self.ca) if self.ca else None)
        proxies = [ProxyHandler({})] if self.loopback else []
        return build_opener(_NoRedirect, HTTPSHandler(context=context), *proxies)


class _NoRedirect(HTTPRedirectHandler):
    def redirect_request(
        self, req: Request, fp: IO[bytes], code: int, msg: str, headers: Message, newurl: str
    ) -> None:
        """Follow nothing: being sent on is an answer to look at."""


def _answer(status: int, headers: Message, body: IO[bytes]) -> Answer:
    data = body.read(_MOST)
    wanted = headers.get("Content-Length", "")
    # Reading so many bytes at most does not say by itself that an answer was cut.
    if wanted.isdecimal() and len(data) < min(int(wanted), _MOST):
        raise IncompleteRead(data)
    return Answer(status, headers.get_content_type(), data, headers.get("Location") or "")


def _sorted(error: OSError | HTTPException, base: str, path: str) -> Fault:
    cause = error.reason if isinstance(error, URLError) else error
    match cause:
        case ssl.SSLCertVerificationError():
            return Fault("certificate", base, cause.verify_message)
        case (
            ssl.SSLError()
            | TimeoutError()
            | ConnectionResetError()
            | ConnectionAbortedError()
            | HTTPException()
        ):
            return Fault("again", base, f"{path}, no whole answer")
    return Fault("unreachable", base, "no connection")
