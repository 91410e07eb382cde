"""The receipt: what was sent where, kept beside the keys in one file an event. It holds no secret.

It is saved before the page is switched, with what the page is going to be, and
again after: whenever a run is killed, the next one knows its own work.
"""

import json
from collections.abc import Mapping
from contextlib import suppress
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any

from sitegen.publish.fault import Fault, os_fault
from sitegen.publish.site import BLOB, check_pid
from sitegen.values import atomic

_FORMAT = 1


@dataclass(frozen=True, slots=True)
class Sent:
    """A blob at the host: size, SHA-256 (empty where nobody knows), and since when no page uses it."""

    size: int
    sha256: str
    left: int | None = None


@dataclass(frozen=True, slots=True)
class Edition:
    """A page as it was published: when (seconds since 1970), its SHA-256, and the blobs it uses."""

    at: int
    index: str
    blobs: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Standing:
    """One event's folder at one host. *editions* are the last two, the newest last.

    *pending* is the SHA-256 of a page that was about to be switched to;
    *site* are the shared files as we sent them; *seen* tells whether the newest
    edition was opened through the address.
    """

    place: str
    pid: str
    address: str = ""
    editions: tuple[Edition, ...] = ()
    blobs: Mapping[str, Sent] = field(default_factory=dict)
    site: Mapping[str, str] = field(default_factory=dict)
    pending: str = ""
    withdrawn: str = ""
    seen: bool = False

    @property
    def live(self) -> bool:
        return bool(self.editions) and not self.withdrawn

    @property
    def reachable(self) -> bool:
        """Whether readers may find a page of ours: also where a run ended before it could note that."""
        return self.live or bool(self.pending)

    @property
    def current(self) -> str:
        """SHA-256 of the page that should be there: the newest edition, a withdrawal's notice, or empty."""
        return self.withdrawn or (self.editions[-1].index if self.editions else "")


@dataclass(frozen=True, slots=True)
class Receipt:
    """All places an event was ever published at."""

    standings: tuple[Standing, ...] = ()

    def at(self, place: str, pid: str) -> Standing:
        """Give what is known of *pid* at *place*; an empty standing where it was never sent."""
        found = (one for one in self.standings if (one.place, one.pid) == (place, pid))
        return next(found, Standing(place, pid))

    def others(self, place: str, pid: str) -> tuple[Standing, ...]:
        """Give where else the event can still be read: after a move, or under an older link."""
        return tuple(one for one in self.standings if (one.place, one.pid) != (place, pid) and one.live)

    def having(self, standing: Standing) -> "Receipt":
        """Give the receipt with *standing* in place of what it said of the same folder."""
        kept = (one for one in self.standings if (one.place, one.pid) != (standing.place, standing.pid))
        return replace(self, standings=(*kept, standing))


def load(path: Path) -> Receipt:
    """Read the receipt at *path*; an empty one where there is none. Raises `Fault` for a damaged one."""
    try:
        found = _receipt(json.loads(path.read_bytes()))
        return Receipt(
            tuple(replace(one, place=_unfold(one.place, _studio(path))) for one in found.standings)
        )
    except FileNotFoundError:
        return Receipt()
    except OSError as error:
        raise os_fault(error, "this computer", str(path)) from None
    except (ValueError, KeyError, TypeError, AttributeError, RecursionError):
        raise Fault("receipt", "this computer", str(path)) from None


def save(path: Path, receipt: Receipt) -> None:
    """Write *receipt* in one step. Raises `Fault`."""
    studio = _studio(path)
    standings = [_plain(replace(one, place=_fold(one.place, studio))) for one in receipt.standings]
    text = json.dumps({"format": _FORMAT, "standings": standings}, indent=1, sort_keys=True)
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        atomic.put(path, text.encode() + b"\n")
    except OSError as error:
        raise os_fault(error, "this computer", str(path)) from None


def _studio(path: Path) -> Path:
    """Give the folder that holds content, keys and receipts; it may be moved, or restored elsewhere."""
    return path.resolve().parents[2]


def _fold(place: str, studio: Path) -> str:
    """Name a folder of the studio from the studio, so that it is found again where both have moved."""
    folder = Path(place)
    inside = folder.is_absolute() and folder.is_relative_to(studio)
    return f"./{folder.relative_to(studio).as_posix()}" if inside else place


def _unfold(place: str, studio: Path) -> str:
    return str(studio / place) if place.startswith("./") else place


def shared_files(folder: Path, place: str) -> dict[str, frozenset[str]]:
    """Gather what any event's receipt in *folder* says we sent as shared files to *place*, by name."""
    known: dict[str, frozenset[str]] = {}
    for path in sorted(folder.glob("*.json")):
        with suppress(Fault):  # another event's damaged receipt is said when that event is published
            for one in load(path).standings:
                for name, sha in one.site.items() if one.place == place else ():
                    known[name] = known.get(name, frozenset()) | {sha}
    return known


def _receipt(data: dict[str, Any]) -> Receipt:
    if data["format"] != _FORMAT:
        raise ValueError("a receipt of another format")
    return Receipt(tuple(_standing(one) for one in data["standings"]))


def _plain(one: Standing) -> dict[str, Any]:
    return {
        "place": one.place,
        "pid": one.pid,
        "address": one.address,
        "editions": [[edition.at, edition.index, list(edition.blobs)] for edition in one.editions],
        "blobs": {name: [sent.size, sent.sha256, sent.left] for name, sent in one.blobs.items()},
        "site": dict(one.site),
        "pending": one.pending,
        "withdrawn": one.withdrawn,
        "seen": one.seen,
    }


def _standing(data: dict[str, Any]) -> Standing:
    check_pid(data["pid"])
    return Standing(
        _text(data["place"]),
        data["pid"],
        _text(data["address"]),
        tuple(
            Edition(int(at), _text(index), tuple(map(_blob, blobs))) for at, index, blobs in data["editions"]
        ),
        {
            _blob(name): Sent(int(size), _text(sha), None if left is None else int(left))
            for name, (size, sha, left) in data["blobs"].items()
        },
        {_text(name): _text(sha) for name, sha in data["site"].items()},
        _text(data["pending"]),
        _text(data["withdrawn"]),
        bool(data["seen"]),
    )


def _text(value: Any) -> str:
    if not isinstance(value, str):
        raise TypeError("no text")
    return value


def _blob(name: Any) -> str:
    if not BLOB.fullmatch(_text(name)):
        raise ValueError("no name of a sealed photo")
    return str(name)
