"""Ribbon and wire, roll by roll: a bar of the cuts in cutting order, and who each cut is for."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction

from sitegen.order.copies import copies_of
from sitegen.order.lots import in_hand
from sitegen.order.market import Thing
from sitegen.order.order import Row
from sitegen.order.rolls import Roll, lay_on
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


@dataclass(frozen=True, slots=True)
class _Rolled:
    """A roll that is bought, one of so many alike; or the one in hand, of which there is none beside it."""

    size: Length
    number: int = 0
    of: int = 0


def rolls(voice: OrderVoice, good: str, number: int) -> tuple[list[RollView], list[str]]:
    """Lay the cuts of a good on the rolls that are bought or in hand, and name those that lie on none.

    *number* tells this good's bars from others'.
    """
    thing, cuts = Thing("good", good), _cuts(voice, good)
    there = _there(voice, thing)
    laid = lay_on([cut.length.metres for cut in cuts], [one.size.metres for one in there])
    views = [
        _view(voice, thing, (one, roll), cuts, f"roll-{number}-{i}")
        for i, (one, roll) in enumerate(zip(there, laid, strict=True), 1)
        if roll.cuts
    ]
    on_rolls = {i for roll in laid for i in roll.cuts}
    left = [cut for i, cut in enumerate(cuts) if i not in on_rolls] if there else []
    return views, list(_not_whole(voice, thing, left))


def _there(voice: OrderVoice, thing: Thing) -> list[_Rolled]:
    """Every roll there is, the longest first; of one shared with another event, what is this one's."""
    found = [
        _Rolled(_length(voice, row, n), n, row.packs)
        for row in voice.order.rows
        if row.thing == thing
        for n in range(1, row.packs + 1)
    ]
    held = in_hand(voice.shared.stock.get(thing.id), voice.order.priced.folder.event.date)
    if held:
        found.append(_Rolled(Length(held, "m").to(voice.order.need.lengths[thing.id].unit)))
    return sorted(found, key=lambda one: -one.size.metres)


def _length(voice: OrderVoice, row: Row, n: int) -> Length:
    size = row.bought.lot.size
    whole = voice.shared.goods[row.thing.id].packs[row.bought.lot.index].length or Length(size, "m")
    return Length(min(size, row.amount - size * (n - 1)), "m").to(whole.unit)


def _not_whole(voice: OrderVoice, thing: Thing, cuts: Sequence[_One]) -> Iterator[str]:
    """Name the cuts that the bench has to join."""
    name = voice.name(thing)
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
    voice: OrderVoice, thing: Thing, laid: tuple[_Rolled, Roll], cuts: Sequence[_One], id_: str
) -> RollView:
    _, (one, roll) = voice.words, laid
    size, good = one.size, voice.name(thing)
    left = Length(roll.left, "m").to(size.unit)
    if one.of:
        said = voice.amount(size)
        title = _("{good} · roll {n} of {packs}, {size}", good=good, n=one.number, packs=one.of, size=said)
    else:
        title = _("{good} · in hand, {size}", good=good, size=voice.amount(size))
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
