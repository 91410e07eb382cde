"""What a reader is given through the public address, and whether a sealed page can live there."""

from collections.abc import Callable

from sitegen.publish.address import Address, Answer
from sitegen.publish.fault import Fault
from sitegen.publish.site import digest

# Gives a blob by its name in the page, `b/….bin`, or None where it is not to be had.
Fetch = Callable[[str], bytes | None]
# Opens a page with its key and every blob it names: None where all is well, else a few words on what is not.
Opens = Callable[[bytes, Fetch], str | None]


def fit_for_sealed_pages(address: Address, absent: str) -> None:
    """Raise `Fault` unless the address is secure, and honest about *absent*, a name that nobody has."""
    if not address.secure:
        raise Fault("insecure", address.base)
    answer = address.get(absent)
    _refusals(answer, address)
    if answer.status < 300:
        raise Fault("answers-all", address.base)


def gives_out(address: Address, path: str, sha256: str, *, before: str = "") -> bytes:
    """Give what readers get at *path*. Raises `Fault` unless it is *sha256*; a passing one for *before*."""
    answer = address.get(path)
    _refusals(answer, address)
    if answer.status != 200:
        raise Fault("not-served", address.base, path)
    if before and digest(answer.body) == before != sha256:
        raise Fault("cached", address.base)
    _as_sent(answer, address, path, sha256)
    return answer.body


def pages_as_sent(address: Address, path: str, sha256: str) -> None:
    """Raise `Fault` where the page at *path*, if it is there at all, comes in another type or rewritten.

    Without *sha256* its bytes are not compared.
    """
    answer = address.get(path)
    if answer.status == 200:
        _as_sent(answer, address, path, sha256)


def _as_sent(answer: Answer, address: Address, path: str, sha256: str) -> None:
    if path.endswith((".html", "/")) and answer.media != "text/html":
        raise Fault("media", address.base, f"pages as {answer.media}")
    if sha256 and digest(answer.body) != sha256:
        raise Fault("differs", address.base, path)


def _refusals(answer: Answer, address: Address) -> None:
    if answer.status in (401, 407):
        raise Fault("password", address.base)
    if answer.status == 429 or answer.status >= 500:
        raise Fault("again", address.base, f"status {answer.status}")
    if 300 <= answer.status < 400:
        raise Fault("redirect", address.base, answer.onward or "another address")


def fetch_from(address: Address, folder: str) -> Fetch:
    """Fetch what the page in *folder* names, as a reader would."""

    def fetch(name: str) -> bytes | None:
        answer = address.get(f"{folder}/{name}")
        _refusals(answer, address)
        return answer.body if answer.status == 200 else None

    return fetch
