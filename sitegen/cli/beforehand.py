"""What has to be said before a page goes out for the first time, or over a newer one."""

from sitegen.build.gate import opened
from sitegen.build.quick import survey
from sitegen.build.sealed import key_store
from sitegen.build.settings import Settings
from sitegen.cli.exits import OUTSIDE, USAGE, Stop
from sitegen.cli.outgoing import Outgoing, history_note
from sitegen.publish import receipt as receipts
from sitegen.publish.fault import Fault
from sitegen.publish.site import index_path
from sitegen.publish.way import Way
from sitegen.records.revisions import last_revision, read_records
from sitegen.seal.base32 import encode
from sitegen.seal.failure import Failure
from sitegen.seal.keys import Secrets, freshened
from sitegen.seal.store import exchange, find


def older_note(going: Outgoing, way: Way) -> str:
    """Say that the page there is of a revision that the records here do not know; empty where it is not.

    So it is after a backup was put back, or where another computer has sent a newer one.
    """
    live = _revision_there(going, way)
    files = going.found.files(going.event)
    last = last_revision(read_records(files.folder, files.shown).records)
    known = last.number if last else 0
    if live <= known:
        return ""
    ours = f"the records here end with {known}" if known else "there are no records here"
    page = way.page(encode(going.own.pid))
    return f"{page} shows revision {live}, and {ours}: what you have here is older than what the couple see."


def stop_where_older(going: Outgoing, way: Way, *, go_on: bool) -> str:
    """Raise `Stop` where what goes out is older than what is there, or give what to say of it."""
    note = older_note(going, way)
    if note and not go_on:
        way.host.close()
        how = "First bring the event's records/ from where it was sent last, or publish with --take-over"
        raise Stop(f"{note} Nothing was sent. {how}", OUTSIDE)
    return note


def stop_where_kept(going: Outgoing, way: Way, *, go_on: bool) -> None:
    """Raise `Stop` before the first upload into a version history, unless she says that she knows."""
    if go_on or not (note := history_note(way)) or _was_sent(going, way):
        return
    how = f"Name another folder in publish.yaml, have {way.host.place} ignored, or publish with --history"
    raise Stop(f"{note} Nothing was sent. {how}", USAGE)


def freshen(settings: Settings) -> None:
    """See that every file of the event becomes another one, under the same link. Raises `Stop`."""
    found = survey(settings)
    for event in found.wanted[:1]:
        store = key_store(settings.home)
        own = find(store, event)
        if isinstance(own, Secrets) and exchange(store, event, own, freshened(own)):
            raise Stop("the key was changed meanwhile by another run; run it again", OUTSIDE)


def _was_sent(going: Outgoing, way: Way) -> bool:
    try:
        known = receipts.load(way.receipt)
    except Fault:
        return False
    return bool(known.at(way.host.place, encode(going.own.pid)).current)


def _revision_there(going: Outgoing, way: Way) -> int:
    """Read the number in the page at the host; 0 where there is none, or none that opens."""
    try:
        page = way.host.read(index_path(encode(going.own.pid)))
    except Fault:
        return 0  # publishing meets it too, and says it
    found = opened(page, going.own) if page else Failure.FOREIGN
    return 0 if isinstance(found, Failure) else found.revision or 0
