"""Picks given by hand on the command line, in the words that stand in the files."""

from collections.abc import Collection, Sequence
from dataclasses import replace

from sitegen.build.quick import NoSuchEvent, one_of
from sitegen.choices.picks import Pick, Picks
from sitegen.choices.table import TablePiece
from sitegen.cli.exits import USAGE, Stop
from sitegen.records.shown import Shown

HELP = "PIECE.CHOICE=ANSWER, PIECE=7, PIECE=out, CHARGE=in"
_STAYS = {"in": True, "out": False}


def picked(shown: Shown, picks: Picks, said: Sequence[str]) -> Picks:
    """Change *picks* of a proposal as *said*, one thing after the other. Raises `Stop`.

    Each names a piece, its choice or a charge by any part of its id that only one has.
    """
    for one in said:
        name, equals, value = (part.strip() for part in one.partition("="))
        if not equals or not name or not value:
            raise Stop(f'"{one}" says nothing to pick; write {HELP}', USAGE)
        picks = _changed(shown, picks, name, value)
    return picks


def _changed(shown: Shown, picks: Picks, name: str, value: str) -> Picks:
    ids = [piece.id for piece in shown.pieces]
    optional = [charge.id for charge in shown.table.charges if charge.optional]
    choices = {
        f"{piece.id}.{choice.id}": (at, c)
        for at, piece in enumerate(shown.pieces)
        for c, choice in enumerate(piece.choices)
    }
    key = _named(name, ids, optional, choices)
    if key in choices:
        at, c = choices[key]
        return _with(picks, at, _answered(shown, picks.pieces[at], at, c, value))
    if key in ids:
        at = ids.index(key)
        return _with(picks, at, _counted(shown.table.pieces[at], picks.pieces[at], value))
    charge = next(i for i, one in enumerate(shown.table.charges) if one.id == key)
    stays = _stays(value, f'the charge "{key}" is in or out')
    return replace(picks, charges=picks.charges | {charge} if stays else picks.charges - {charge})


def _named(name: str, pieces: Sequence[str], charges: Sequence[str], choices: Collection[str]) -> str:
    """What *name* means: with a point in it, a choice of a piece; else a piece or a charge."""
    if name in {*pieces, *charges, *choices}:
        return name
    piece, point, choice = name.partition(".")
    if not point:
        return _one(name, [*pieces, *charges], "piece or optional charge")
    of = _one(piece, pieces, "piece")
    asked = [key.removeprefix(f"{of}.") for key in choices if key.startswith(f"{of}.")]
    return f"{of}.{_one(choice, asked, 'choice')}"


def _one(name: str, known: Sequence[str], kind: str) -> str:
    try:
        return one_of(name, known, kind)
    except NoSuchEvent as unknown:
        raise Stop(str(unknown), USAGE) from None


def _with(picks: Picks, at: int, pick: Pick) -> Picks:
    return replace(picks, pieces=(*picks.pieces[:at], pick, *picks.pieces[at + 1 :]))


def _answered(shown: Shown, pick: Pick, at: int, choice: int, value: str) -> Pick:
    ids = [answer.id for answer in shown.pieces[at].choices[choice].answers]
    answer = ids.index(_one(value, ids, "answer"))
    return replace(pick, answers=(*pick.answers[:choice], answer, *pick.answers[choice + 1 :]))


def _counted(piece: TablePiece, pick: Pick, value: str) -> Pick:
    if not (value.isascii() and value.isdigit() and len(value) < 10):
        stays = _stays(value, f'"{piece.id}" is a number, in or out')
        if not stays and not piece.optional:
            what = f'"{piece.id}" is not optional in that revision'
            raise Stop(f"{what}; change it in the content, and send again", USAGE)
        return replace(pick, out=not stays)
    number = int(value)
    if not piece.least <= number <= piece.most:
        bounds = f"from {piece.least} to {piece.most}" if piece.least < piece.most else f"as {piece.quantity}"
        what = f'"{piece.id}" was offered {bounds} in that revision'
        raise Stop(f"{what}; for {number}, change it in the content, and send again", USAGE)
    return replace(pick, quantity=number, out=False)


def _stays(value: str, what: str) -> bool:
    if value not in _STAYS:
        raise Stop(f'{what}; "{value}" is none of it', USAGE)
    return _STAYS[value]


def as_said(shown: Shown, picks: Picks) -> list[str]:
    """Give the words that make *picks* out of what we suggest: `picked` reads them."""
    said = []
    for piece, pick, told in zip(shown.table.pieces, picks.pieces, shown.pieces, strict=True):
        if pick.out:
            said.append(f"{piece.id}=out")
            continue
        if pick.quantity != piece.quantity:
            said.append(f"{piece.id}={pick.quantity}")
        for choice, answer, usual in zip(told.choices, pick.answers, piece.usual, strict=True):
            if answer != usual:
                said.append(f"{piece.id}.{choice.id}={choice.answers[answer].id}")
    return said + [f"{shown.table.charges[i].id}=in" for i in sorted(picks.charges)]
