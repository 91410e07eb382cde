"""How a command reaches a host and its readers, and where it keeps the receipt."""

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from sitegen.publish.address import Address
from sitegen.publish.host import Host
from sitegen.publish.receipt import Receipt
from sitegen.publish.retry import Wait

HERE_ONLY = "It is on this computer only: nobody else can open it yet."


@dataclass(frozen=True, slots=True)
class Moved:
    """How far the work is: files and bytes done and in all, and the file that is next or was last."""

    files_done: int
    files: int
    bytes_done: int
    bytes: int
    path: str


Progress = Callable[[Moved], None]


def quiet(moved: Moved) -> None:
    """Show nothing."""


@dataclass(frozen=True, slots=True)
class Way:
    """What publishing, verifying and withdrawing one event share.

    *address* is None for a folder that nobody serves. *receipts* is a folder;
    *now* is in seconds since 1970. With *lags*, another tool carries the files
    to the address later, so that what is not there yet is no fault.
    """

    host: Host
    address: Address | None
    receipts: Path
    event: str
    now: int
    wait: Wait
    lags: bool = False

    @property
    def receipt(self) -> Path:
        return self.receipts / f"{self.event}.json"

    def page(self, pid: str) -> str:
        """The page's address without its key, or where it lies on this computer."""
        return f"{self.address.base}{pid}/" if self.address else f"{self.host.place}/{pid}/index.html"


def elsewhere(receipt: Receipt, place: str, pid: str) -> tuple[str, ...]:
    """Say where else the event can still be read."""
    return tuple(
        f"It can still be read at {one.address or one.place}, where it was published before: withdraw it."
        for one in receipt.others(place, pid)
    )
