"""Every amount that a couple may rightly read: what the table gives at any one change, and what changed."""

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction

from sitegen.build.event import Worked
from sitegen.choices.picks import Pick, Picks, each_of, usual_picks
from sitegen.choices.table import Table, TablePiece, table
from sitegen.choices.totals import Totals, totals
from sitegen.price.priced import PricedEvent
from sitegen.records.agreed import standing
from sitegen.records.change import Difference, PieceChange, Step
from sitegen.records.difference import difference
from sitegen.records.revisions import revisions
from sitegen.records.shown import Shown
from sitegen.records.snapshot import snapshot
from sitegen.render.estimate import payable, received
from sitegen.reply.carry import carry

_MOST_COUNTS = 400


def shown_amounts(worked: Worked) -> frozenset[int]:
    """Give the amounts, without their signs, that a couple's page shows or computes, in smallest units.

    The page is at the content, or once approved at what was agreed, whatever the studio's own figures are
    made from. What was in a proposal before may be told too, and by how much it changed: made from what the
    couple were shown, which has no field for anything private.
    """
    page = worked.stand.page
    prices = table(page)
    usual = usual_picks(prices)
    sums = totals(prices, usual)
    came = received(page)
    found = {came, sums.total - came, page.shared.currency.units(page.folder.event.least or Fraction(0))}
    found |= {*_amounts(prices, usual), *totals(payable(page, prices, usual), usual).payments}
    now = snapshot(worked.content, worked.heads).shown
    for revision in revisions(worked.stand.records):
        sent = revision.snapshot.shown
        found |= {*_amounts(sent.table, usual_picks(sent.table)), *_told(difference(sent, now))}
    found |= set(_agreed(worked, now))
    return frozenset(map(abs, found | _by_group(page, sums)))


def _told(change: Difference) -> Iterator[int]:
    """What the list of changes may name: what was, what is, and what lies between."""
    steps = [change.total, *(step for piece in change.pieces for step in _steps(piece))]
    steps += [Step(one.was or 0, one.now or 0) for one in change.sums]
    steps += [change.least] if change.least else []
    for step in steps:
        yield from (step.was, step.now, step.now - step.was)


def _steps(piece: PieceChange) -> Iterator[Step[int]]:
    yield from filter(None, (piece.line, piece.each, *(answer.step for answer in piece.answers)))


def _agreed(worked: Worked, now: Shown) -> Iterator[int]:
    """What was approved, and what the same choices come to in the proposal *now*."""
    agreed = standing(worked.stand.records)
    for revision in revisions(worked.stand.records):
        if agreed and revision.number == agreed.approval.revision:
            picks, _ = carry(agreed.approval.picks, revision.snapshot.shown, now)
            yield from (agreed.approval.total, *_sums(totals(now.table, picks)))


def _by_group(page: PricedEvent, sums: Totals) -> set[int]:
    parts: dict[str, int] = {}
    for piece, line in zip(page.pieces, sums.lines, strict=True):
        group = piece.file.piece.group
        parts[group] = parts.get(group, 0) + line
    return set(parts.values())


def _amounts(table: Table, usual: Picks) -> Iterator[int]:
    yield from _sums(totals(table, usual))
    for charge in table.charges:
        yield from (charge.least, charge.part.amount or 0)
    for i, piece in enumerate(table.pieces):
        yield from _of_piece(piece)
        for pick in _changes(piece, usual.pieces[i]):
            yield totals(table, _with(usual, i, pick)).total
    for i, charge in enumerate(table.charges):
        if charge.optional:
            yield from _sums(totals(table, replace(usual, charges=frozenset({i}))))


def _sums(one: Totals) -> Iterator[int]:
    yield from (*one.lines, one.subtotal, one.discount, *one.tax, one.total, *one.payments)
    yield from (amount for amount in one.charges if amount is not None)


def _of_piece(piece: TablePiece) -> Iterator[int]:
    """The price of each combination, its difference from the usual one, each alone and in any number."""
    usual = each_of(piece, piece.usual)
    counts = {1, piece.quantity, *range(piece.least, min(piece.most, piece.least + _MOST_COUNTS) + 1)}
    for each in set(piece.each):
        for count in counts:
            yield from (count * each, count * (each - usual))


def _changes(piece: TablePiece, usual: Pick) -> Iterator[Pick]:
    """The usual pick with one answer changed, or left out."""
    for i, size in enumerate(piece.answers):
        for answer in range(size):
            yield replace(usual, answers=(*usual.answers[:i], answer, *usual.answers[i + 1 :]))
    yield replace(usual, out=True)


def _with(usual: Picks, i: int, pick: Pick) -> Picks:
    return replace(usual, pieces=(*usual.pieces[:i], pick, *usual.pieces[i + 1 :]))
