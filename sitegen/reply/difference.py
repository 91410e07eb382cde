"""What picks change against other picks of the same revision, in words and money."""

from collections.abc import Iterator
from dataclasses import dataclass

from sitegen.choices.picks import Pick, Picks
from sitegen.choices.totals import totals
from sitegen.records.change import Step
from sitegen.records.shown import Shown


@dataclass(frozen=True, slots=True)
class Row:
    """A piece or charge that differs; `moved` is what it does to its line, in smallest units.

    Charges, discount and taxes that follow are not rows of their own: the totals hold them.
    """

    name: str
    what: tuple[str, ...]
    moved: int


@dataclass(frozen=True, slots=True)
class PicksDifference:
    rows: tuple[Row, ...]
    total: Step[int]


def picks_difference(shown: Shown, was: Picks, now: Picks) -> PicksDifference:
    """Say what *now* picks otherwise than *was*, both of the proposal *shown*."""
    before, after = totals(shown.table, was), totals(shown.table, now)
    rows = [
        Row(shown.pieces[at].title, tuple(_piece(shown, at, was.pieces[at], now.pieces[at])), then - first)
        for at, (first, then) in enumerate(zip(before.lines, after.lines, strict=True))
    ]
    for i in sorted(was.charges ^ now.charges):
        what = "added" if i in now.charges else "no longer asked for"
        moved = (after.charges[i] or 0) - (before.charges[i] or 0)
        rows.append(Row(shown.labels.charges[i], (what,), moved))
    return PicksDifference(tuple(row for row in rows if row.what), Step(before.total, after.total))


def _piece(shown: Shown, at: int, was: Pick, now: Pick) -> Iterator[str]:
    if now.out:
        if not was.out:
            yield "left out"
        return
    if was.out:
        yield "in again"
    for choice, first, then in zip(shown.pieces[at].choices, was.answers, now.answers, strict=True):
        if first != then:
            yield f"{choice.answers[then].label}, instead of {choice.answers[first].label}"
    if was.quantity != now.quantity:
        yield f"{now.quantity}, instead of {was.quantity}"
