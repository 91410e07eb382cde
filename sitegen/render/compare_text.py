"""A comparison of revisions as lines of text and as data, for `sitegen compare`. Private."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Any

from sitegen.records.change import Step
from sitegen.records.journal import Record
from sitegen.records.revisions import Revision, revisions
from sitegen.records.snapshot import Snapshot
from sitegen.render.changes import voice_of
from sitegen.render.compare import StudioChanges, StudioRow, studio_changes
from sitegen.render.voice import Voice
from sitegen.values.money import Currency


class NoSuchRevision(Exception):
    """A revision was asked for that the event does not have; the text says which there are."""


@dataclass(frozen=True, slots=True)
class Compared:
    """Lines for people, and plain data for machines with amounts as decimal texts."""

    lines: tuple[str, ...]
    data: dict[str, Any]


def compare(
    records: Sequence[Record], numbers: Sequence[int], now: Snapshot | None, late: Sequence[StudioRow] = ()
) -> Compared:
    """Compare two revisions by their *numbers*; one, or with no number the last, with the content *now*.

    *now* may be None where two numbers are given. *late* are the stand-ins since an approval, which are in
    the content and in no price. Raises `NoSuchRevision`.
    """
    found = revisions(records)
    if not found:
        raise NoSuchRevision("nothing was sent yet: there is nothing to compare with")
    first = _numbered(found, numbers[0]) if numbers else found[-1]
    other = _numbered(found, numbers[1]) if len(numbers) > 1 else None
    after = other.snapshot if other else now
    if after is None:
        raise ValueError("there is no content to compare with")
    changes = studio_changes(first.snapshot, after)
    changes = replace(changes, rows=(*changes.rows, *late))
    voice = voice_of(after.shown)
    lines = (_head(first, other), "", *_lines(changes, voice), *_sums(changes, voice))
    return Compared(lines, _data(first, other, changes, after))


def _numbered(found: Sequence[Revision], number: int) -> Revision:
    for one in found:
        if one.number == number:
            return one
    there = ", ".join(str(one.number) for one in found)
    raise NoSuchRevision(f"there is no revision {number}; there are {there}")


def _head(first: Revision, other: Revision | None) -> str:
    against = f"revision {other.number} of {other.day}" if other else "the content now"
    return f"Revision {first.number} of {first.day} against {against}"


def _lines(changes: StudioChanges, voice: Voice) -> Iterator[str]:
    """A line of what changed, and under it what it does in money."""
    for row in changes.rows:
        yield f"{row.name}: {row.what}" if row.what else row.name
        if row.line or row.cost:
            yield f"    {_money(row, voice)}"
    if not changes.rows:
        yield "Nothing has changed."


def _money(row: StudioRow, voice: Voice) -> str:
    change = voice.money.change
    parts = [f"price {change(row.line)}" if row.line else "", f"cost {change(row.cost)}" if row.cost else ""]
    if row.piece:
        parts.append(f"left {change(row.left)}" if row.left else "left as it was")
    return ", ".join(filter(None, parts))


def _sums(changes: StudioChanges, voice: Voice) -> Iterator[str]:
    rows = [("", "was", "now", "")]
    for label, step in _steps(changes):
        exact, moved = voice.money.exact, step.now - step.was
        rows.append((label, exact(step.was), exact(step.now), voice.money.change(moved) if moved else ""))
    widths = [max(len(row[i]) for row in rows) for i in range(4)]
    yield ""
    for row in rows:
        cells = (f"{cell:>{width}}" for cell, width in zip(row[1:], widths[1:], strict=True))
        yield f"{row[0]:<{widths[0]}}  {'  '.join(cells)}".rstrip()


def _steps(changes: StudioChanges) -> tuple[tuple[str, Step[int]], ...]:
    return (
        ("Total as suggested", changes.total),
        ("Before tax", changes.before_tax),
        ("Cost of what is made", changes.cost),
        ("Left after what is in the recipes", changes.left),
    )


def _data(first: Revision, other: Revision | None, changes: StudioChanges, after: Snapshot) -> dict[str, Any]:
    money = Currency(after.shown.currency, after.shown.table.digits)
    return {
        "from": {"revision": first.number, "at": first.at.isoformat()},
        "to": {"revision": other.number if other else None, "at": other.at.isoformat() if other else None},
        "currency": money.code,
        "changes": [
            {
                "piece": row.piece or None,
                "name": row.name,
                "what": row.what,
                "price": money.text(row.line),
                "cost": money.text(row.cost),
            }
            for row in changes.rows
        ],
        **{
            name: {"was": money.text(step.was), "now": money.text(step.now)}
            for name, (_, step) in zip(("total", "before_tax", "cost", "left"), _steps(changes), strict=True)
        },
    }
