"""Picks of one revision taken over to another: kept where they still mean something, the rest named."""

from collections.abc import Iterator
from dataclasses import dataclass

from sitegen.choices.picks import Pick, Picks
from sitegen.records.difference import matched
from sitegen.records.shown import Choice, Shown


@dataclass(frozen=True, slots=True)
class Lost:
    """Something that was picked and means nothing any more: of which piece (or charge), and what it was."""

    name: str
    what: str


def carry(picks: Picks, was: Shown, now: Shown) -> tuple[Picks, tuple[Lost, ...]]:
    """Take *picks* of the proposal *was* over to *now*.

    What no longer fits stands as we suggest, and is told. Nothing is told of what was never picked
    otherwise than suggested.
    """
    before = matched(was, now)
    lost: list[Lost] = []
    pieces = tuple(
        _pick(picks.pieces[before[at]], was, before[at], now, at, lost)
        if at in before
        else _suggested(now, at)
        for at in range(len(now.pieces))
    )
    kept = set(before.values())
    for at, pick in enumerate(picks.pieces):
        if at not in kept and pick != _suggested(was, at):
            lost.append(Lost(was.pieces[at].title, "no longer in the proposal"))
    return Picks(pieces, _charges(picks, was, now, lost)), tuple(lost)


def _suggested(of: Shown, at: int) -> Pick:
    piece = of.table.pieces[at]
    return Pick(piece.usual, piece.quantity)


def _pick(pick: Pick, was: Shown, before: int, now: Shown, at: int, lost: list[Lost]) -> Pick:
    old, new = was.table.pieces[before], now.table.pieces[at]
    title = now.pieces[at].title
    answers = list(new.usual)
    for c, label in _answers(pick, was.pieces[before].choices, now.pieces[at].choices, answers):
        if pick.answers[c] != old.usual[c]:
            lost.append(Lost(title, label))
    quantity = new.quantity if pick.quantity == old.quantity else min(max(pick.quantity, new.least), new.most)
    if quantity != pick.quantity != old.quantity:
        lost.append(Lost(title, str(pick.quantity)))
    if pick.out and not new.optional:
        lost.append(Lost(title, "left out"))
    return Pick(tuple(answers), quantity, pick.out and new.optional)


def _answers(
    pick: Pick, was: tuple[Choice, ...], now: tuple[Choice, ...], answers: list[int]
) -> Iterator[tuple[int, str]]:
    """Set the answers that are still given; yield the others, by their choice's index, with their label."""
    at = {choice.id: c for c, choice in enumerate(now)}
    for c, choice in enumerate(was):
        picked = choice.answers[pick.answers[c]]
        ids = [one.id for one in now[at[choice.id]].answers] if choice.id in at else []
        if picked.id in ids:
            answers[at[choice.id]] = ids.index(picked.id)
        else:
            yield c, picked.label


def _charges(picks: Picks, was: Shown, now: Shown, lost: list[Lost]) -> frozenset[int]:
    ids = {charge.id: i for i, charge in enumerate(now.table.charges) if charge.optional}
    kept = set()
    for i in sorted(picks.charges):
        id_ = was.table.charges[i].id
        if id_ in ids:
            kept.add(ids[id_])
        else:
            lost.append(Lost(was.labels.charges[i], "no longer offered"))
    return frozenset(kept)
