"""What a couple answered, what was agreed, and what was taken back: bodies of records, and what holds now."""

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass

from sitegen.choices.picks import Picks
from sitegen.records.journal import Record


@dataclass(frozen=True, slots=True)
class Noted:
    """A couple's note on a piece, by its id, or on the whole where that is empty. It is never trusted."""

    piece: str
    text: str


@dataclass(frozen=True, slots=True)
class Reply:
    """What a couple answered to a revision. `total` is priced from that revision, in smallest units.

    `code` names the code that said it, and `shown` is the total that it claims; `phone` and `turn` tell
    apart where and in which order replies were made. `noted_whole` tells that the notes are those that the
    code knew. `beside` is what else they wrote around it, a line each: never read as a choice.
    """

    revision: int
    picks: Picks
    total: int
    code: str
    shown: int
    phone: int
    turn: int
    notes: tuple[Noted, ...] = ()
    noted_whole: bool = True
    beside: str = ""


@dataclass(frozen=True, slots=True)
class Approval:
    """What was agreed: picks of a revision, which holds recipes, counts, prices and terms, and their total.

    `reply` is the number of the record that they came from; None where they were given by hand, for the
    reason `why`.
    """

    revision: int
    picks: Picks
    total: int
    reply: int | None = None
    why: str = ""


@dataclass(frozen=True, slots=True)
class Withdrawal:
    """An approval, by its record's number, that holds no longer. It is not taken out: it was agreed."""

    approval: int
    why: str


@dataclass(frozen=True, slots=True)
class Answered:
    """A reply and the record that holds it."""

    record: Record
    reply: Reply


@dataclass(frozen=True, slots=True)
class Approved:
    """An approval and the record that holds it."""

    record: Record
    approval: Approval

    @property
    def day(self) -> dt.date:
        return self.record.day


def replies(records: Sequence[Record]) -> tuple[Answered, ...]:
    """Give all replies, the first recorded first: what was recorded last is what the florist counts."""
    return tuple(Answered(record, record.body) for record in records if isinstance(record.body, Reply))


def last_reply(records: Sequence[Record]) -> Answered | None:
    found = replies(records)
    return found[-1] if found else None


def approvals(records: Sequence[Record]) -> tuple[Approved, ...]:
    """Give all approvals, withdrawn ones too, the first first."""
    return tuple(Approved(record, record.body) for record in records if isinstance(record.body, Approval))


def standing(records: Sequence[Record]) -> Approved | None:
    """Give the approval that holds: the last, unless it was withdrawn."""
    found = approvals(records)
    withdrawn = {record.body.approval for record in records if isinstance(record.body, Withdrawal)}
    return found[-1] if found and found[-1].record.number not in withdrawn else None
