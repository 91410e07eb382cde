"""Revisions: numbered proposals as they were sent, and how far an event has come."""

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Literal

from sitegen.order.placed import Placed, Unplaced
from sitegen.records.agreed import Approval, Reply, Withdrawal
from sitegen.records.append import append
from sitegen.records.journal import Journal, Record, read_journal, sealed
from sitegen.records.snapshot import Snapshot, changed_for_couple


@dataclass(frozen=True, slots=True)
class Sent:
    """The body of a revision's record; revisions count from 1 in each event."""

    revision: int
    snapshot: Snapshot


KINDS: dict[str, Any] = {
    "revision": Sent,
    "reply": Reply,
    "approval": Approval,
    "withdrawal": Withdrawal,
    "placed": Placed,
    "unplaced": Unplaced,
}
"""What an event's journal may hold."""

Stage = Literal["draft", "sent", "answered", "approved", "past"]


@dataclass(frozen=True, slots=True)
class Revision:
    """A proposal as it was sent: its number, its day, all that was priced, and the record that holds it."""

    number: int
    at: dt.date
    snapshot: Snapshot
    record: Record

    @property
    def day(self) -> dt.date:
        return self.record.day

    @property
    def valid_until(self) -> dt.date | None:
        """The last day on which its prices hold; None where that was not said."""
        days = self.snapshot.shown.valid
        return None if days is None else self.day + dt.timedelta(days=days)


def read_records(event: Path, shown: str) -> Journal:
    """Read all records of the event whose folder is *event*, shown to people as *shown*. Raises OSError."""
    return read_journal(event, shown, KINDS)


def revisions(records: Sequence[Record]) -> tuple[Revision, ...]:
    """Give all revisions, the oldest first."""
    return tuple(
        Revision(record.body.revision, record.at, record.body.snapshot, record)
        for record in records
        if isinstance(record.body, Sent)
    )


def last_revision(records: Sequence[Record]) -> Revision | None:
    """Give the revision that the couple have; None before the first."""
    found = revisions(records)
    return found[-1] if found else None


def make_revision(journal: Journal, now: Snapshot, at: dt.date) -> Revision | None:
    """Record *now* as the next revision on *at*; None where nothing changed for the couple since the last.

    The one way in which revisions come to be. Raises what `append` does.
    """
    last = last_revision(journal.records)
    if last is not None and not changed_for_couple(last.snapshot, now):
        return None
    number = last.number + 1 if last else 1
    added = append(journal, "revision", at, Sent(number, now))
    return last_revision(added.records)


def as_if_sent(journal: Journal, now: Snapshot, at: dt.date) -> Journal:
    """Give a journal without records as it would be once *now* were sent; nothing is written."""
    return journal.after(sealed(1, "revision", at, "", Sent(1, now)))


def stage(records: Sequence[Record], event: dt.date, today: dt.date) -> Stage:
    """Say how far an event has come. Order is that of the records; their days decide nothing.

    An approval holds until it is withdrawn, whatever is sent after it; a reply counts until the next
    revision is sent. A day that is over is past, whatever was agreed.
    """
    if event < today:
        return "past"
    last = {record.kind: record.number for record in records}
    if last.get("approval", 0) > last.get("withdrawal", 0):
        return "approved"
    if last.get("reply", 0) > last.get("revision", 0):
        return "answered"
    return "sent" if "revision" in last else "draft"
