"""What the desk says of keys, and of pages that are online, from the key store and the receipts."""

from collections.abc import Sequence
from pathlib import Path

from sitegen.build.sealed import key_store, receipts_in
from sitegen.publish import receipt as receipts
from sitegen.publish.fault import Fault
from sitegen.render.desk_kept import Kept
from sitegen.seal.saved import last_backup, not_backed_up


def kept_of(home: Path, events: Sequence[str]) -> Kept:
    """Look up the last backup, and which of *events* can be read at some host."""
    store = key_store(home)
    last = last_backup(store)
    unsaved = [event for event in not_backed_up(store) if event in events]
    return Kept(
        last.on if last else None, len(unsaved), frozenset(filter(lambda one: is_up(home, one), events))
    )


def is_up(home: Path, event: str) -> bool:
    """Whether readers may find a page of *event* at some host, as its receipt has it."""
    try:
        return any(one.reachable for one in receipts.load(receipts_in(home) / f"{event}.json").standings)
    except Fault:
        return False
