"""Ribbon and wire, roll by roll: a bar of the cuts in cutting order, and who each cut is for."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction

from sitegen.order.copies import copies_of
from sitegen.order.order import Row
from sitegen.order.rolls import Roll, lay, longer_than
from sitegen.render.order_page import Cell, CutRow, RollView
from sitegen.render.order_voice import NB, OrderVoice
from sitegen.values.length import Length
from sitegen.values.number import decimal_text

BAR = 516  # points: the width of the text on A4
_LETTER = 6  # points for each letter of a cell, and as much around them
_ROOM_FOR_REST = 60
_SMALL = {"yd": "in", "ft": "in", "m": "cm"}


@dataclass(frozen=True, slots=True)
class _One:
    """One cut to make: how long, of which piece, for whom."""

    length: Length
    piece: str
    tick: str


def rolls(voice: OrderVoice, row: Row, number: int) -> tuple[list[RollView], list[str]]:
    """Lay the cuts of a good on the rolls that are bought, and name those that are longer than a roll.

    *number* tells this good's bars from others'.
    """
    cuts = _cuts(voice, row.thing.id)
    lengths = [cut.length.metres for cut in cuts]
    laid = lay(lengths, row.bought.lot.size)
    views = [_view(voice, row, (i, roll), cuts, f"roll-{number}-{i + 1}") for i, roll in enumerate(laid)]
    long = [cuts[i] for i in longer_than(lengths, row.bought.lot.size)]
    return views, list(_too_long(voice, row, long))


def _too_long(voice: OrderVoice, row: Row, cuts: Sequence[_One]) -> Iterator[str]:
    """Name the cuts that the bench has to join."""
    name = voice.name(row.thing)
    for length, piece in dict.fromkeys((cut.length, cut.piece) for cut in cuts):
        yield voice.words(
            "{good}: {length} for {piece} is longer than a roll.",
            good=name,
            length=voice.amount(length),
            piece=voice.pieces[piece].piece,
        )


def _cuts(voice: OrderVoice, good: str) -> list[_One]:
    return [
        _One(cut.length, cut.piece, tick)
        for cut in voice.order.need.cuts[good]
        for tick in copy_names(voice, cut.piece)
    ]


def copy_names(voice: OrderVoice, piece: str) -> list[str]:
    """Name the wearer of each copy; the unpaid ones are spare, and copies without a name are numbered."""
    copies, named = copies_of(voice.order, piece), bool(voice.pieces[piece].wearers)
    if len(copies) == 1 and not named:
        return [""]
    spare = voice.words("spare")
    return [
        copy.wearer.name if copy.wearer else spare if copy.spare and named else str(copy.number)
        for copy in copies
    ]


def _view(
    voice: OrderVoice, row: Row, numbered: tuple[int, Roll], cuts: Sequence[_One], id_: str
) -> RollView:
    _, (i, roll) = voice.words, numbered
    pack = voice.shared.goods[row.thing.id].packs[row.bought.lot.index]
    size = pack.length or Length(row.bought.lot.size, "m")
    left = Length(roll.left, "m").to(size.unit)
    title = _(
        "{good} · roll {n} of {packs}, {size}",
        good=voice.name(row.thing),
        n=i + 1,
        packs=row.bought.packs,
        size=voice.amount(size),
    )
    here = [cuts[number] for number in roll.cuts]
    told = ", ".join(voice.amount(cut.length) for cut in here)
    return RollView(
        id=id_,
        title=title,
        told=_("{cuts}; {left} left", cuts=told, left=voice.amount(left)),
        cells=tuple(_cells(voice, here, left, size)),
        cuts=tuple(_rows(voice, here)),
    )


def _cells(voice: OrderVoice, cuts: Sequence[_One], left: Length, size: Length) -> Iterator[Cell]:
    at = Fraction(0)
    scale = BAR / size.metres
    for cut in cuts:
        width = cut.length.metres * scale
        said = voice.amount(cut.length.amount)
        yield _cell(at, width, said if width > _LETTER * (len(said) + 1) else "")
        at += width
    if left.amount:
        rest = left.metres * scale
        said = voice.words("{length} left", length=voice.amount(left)) if rest > _ROOM_FOR_REST else ""
        yield _cell(at, rest, said, rest=True)


def _cell(at: Fraction, width: Fraction, text: str, *, rest: bool = False) -> Cell:
    middle = decimal_text(at + width / 2, 2)
    return Cell(decimal_text(at, 2), decimal_text(width, 2), middle, text, rest)


def _rows(voice: OrderVoice, cuts: Sequence[_One]) -> Iterator[CutRow]:
    alike: dict[tuple[Length, str], list[str]] = {}
    for cut in cuts:
        alike.setdefault((cut.length, cut.piece), []).append(cut.tick)
    for (length, piece), ticks in alike.items():
        small = _SMALL.get(length.unit)
        yield CutRow(
            count=f"{len(ticks)} × {voice.amount(length)}".replace(" ", NB),
            small=voice.amount(length.to(small)) if small else "",
            piece=voice.pieces[piece].piece,
            ticks=tuple(ticks),
        )
