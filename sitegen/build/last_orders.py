"""The last order of each approved event, kept beside the content until the event is over and after.

Once an order was placed its record says what was bought, and nothing is kept here. What is lost is solved
once more.
"""

import datetime as dt
import json
from hashlib import blake2b
from pathlib import Path

from sitegen.build.event import Worked
from sitegen.order.placed import Placed
from sitegen.order.placing import placed_now
from sitegen.pictures.store import Store, put
from sitegen.records.plain import Misfit, plain, restore


def keep_last(home: Path, worked: Worked, today: dt.date) -> None:
    """Keep the order of an event that is approved and still to come. Raises OSError."""
    event = worked.folder.event
    if worked.stand.approved is None or worked.order.before.placings:
        return
    if event.closed is not None or event.date < today:
        return
    body = placed_now(worked.order)
    data = json.dumps(plain(body), separators=(",", ":")).encode() if body else b"null"
    store, name = _store(home), _name(worked.folder.id)
    if _read(store, name) != data:
        put(store, name, data)


def last_order(home: Path, event: str) -> Placed | None:
    """Give what was kept of an event; None where there is nothing that can be read."""
    try:
        return restore(Placed, json.loads(_read(_store(home), _name(event))))
    except (ValueError, Misfit):
        return None


def _store(home: Path) -> Store:
    return Store(home / "cache" / "orders")


def _name(event: str) -> str:
    return f"last-{blake2b(event.encode(), digest_size=12).hexdigest()}.json"


def _read(store: Store, name: str) -> bytes:
    try:
        return store.path(name).read_bytes()
    except OSError:
        return b""
