"""What differs between two states of one piece, both at what was suggested."""

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import TypeVar

from sitegen.choices.picks import each_of
from sitegen.choices.table import TablePiece
from sitegen.records.change import AmountChange, AnswerChange, Facet, PieceChange, Step
from sitegen.records.shown import Choice, Goods, Named, Piece, Shown, Stems
from sitegen.records.snapshot import index_of
from sitegen.values.length import Length

T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class Side:
    """The piece number `at` within its proposal: as it is shown, and as it is priced."""

    of: Shown
    at: int

    @property
    def piece(self) -> Piece:
        return self.of.pieces[self.at]

    @property
    def priced(self) -> TablePiece:
        return self.of.table.pieces[self.at]

    @property
    def usual(self) -> int:
        return index_of(self.priced, self.priced.usual)

    @property
    def each(self) -> int:
        return self.priced.each[self.usual]

    @property
    def line(self) -> int:
        return self.priced.quantity * self.each

    @property
    def stems(self) -> Stems:
        return self.piece.recipes[self.piece.recipe_of[self.usual]]

    @property
    def goods(self) -> Goods:
        return self.piece.goods[self.piece.goods_of[self.usual]]


def step(was: T, now: T) -> Step[T] | None:
    return None if was == now else Step(was, now)


def come(now: Side) -> PieceChange:
    return PieceChange(now.piece.id, now.piece.title, "new", now.at, Step(0, now.line))


def gone(was: Side) -> PieceChange:
    return PieceChange(was.piece.id, was.piece.title, "gone", None, Step(was.line, 0))


def changed(was: Side, now: Side) -> PieceChange | None:
    """Tell what changed; None where the couple see and pay what they did.

    Where recipes are now shown in another way, that is told once for all pieces, and not as stems that went.
    """
    alike = was.of.show_stems == now.of.show_stems
    if was.priced == now.priced and _told(was.piece, alike=alike) == _told(now.piece, alike=alike):
        return None
    stems, goods = _names(was.of.stems, now.of.stems), _names(was.of.goods, now.of.goods)
    asked, unasked = _asks(was.piece.choices), _asks(now.piece.choices)
    bare = PieceChange(now.piece.id, now.piece.title, "changed", now.at, Step(was.line, now.line))
    found = PieceChange(
        id=bare.id,
        title=bare.title,
        kind=bare.kind,
        at=bare.at,
        line=bare.line,
        called=step(was.piece.title, now.piece.title),
        quantity=step(was.priced.quantity, now.priced.quantity),
        bounds=_bounds(was.priced, now.priced),
        each=step(was.each, now.each),
        stems=tuple(_amounts(was.stems, now.stems, stems)) if alike else (),
        goods=tuple(_amounts(was.goods, now.goods, goods)),
        asked=tuple(ask for id_, ask in unasked.items() if id_ not in asked),
        unasked=tuple(ask for id_, ask in asked.items() if id_ not in unasked),
        answers=tuple(_answers(was, now)),
        facets=tuple(_facets(was, now)),
    )
    return found if found != bare else _rest(bare)


def _told(piece: Piece, *, alike: bool) -> Piece:
    return piece if alike else replace(piece, recipes=(), recipe_of=())


def _rest(bare: PieceChange) -> PieceChange:
    return PieceChange(bare.id, bare.title, bare.kind, bare.at, bare.line, facets=("rest",))


def _bounds(was: TablePiece, now: TablePiece) -> Step[tuple[int, int]] | None:
    """Bounds are told where there is, or was, something to choose between them."""
    if was.least == was.most and now.least == now.most:
        return None
    return step((was.least, was.most), (now.least, now.most))


def _names(*both: Iterable[Named]) -> dict[str, str]:
    return {named.id: named.name for side in both for named in side}


def _amounts(was: Stems | Goods, now: Stems | Goods, names: Mapping[str, str]) -> Iterator[AmountChange]:
    """Names that go and come are told too where amounts are not; a change of order alone is not told here."""
    before: dict[str, Fraction | Length | None] = dict(was)
    after: dict[str, Fraction | Length | None] = dict(now)
    counted = None not in {*before.values(), *after.values()}
    for id_ in dict.fromkeys((*before, *after)):
        if id_ in before and id_ in after and before[id_] == after[id_]:
            continue
        if counted or (id_ in before) != (id_ in after):
            yield AmountChange(names[id_], _amount(before, id_), _amount(after, id_), counted)


def _amount(of: Mapping[str, Fraction | Length | None], id_: str) -> Fraction | Length | None:
    """Where only names are shown, one stands for a stem that is there."""
    found = of.get(id_)
    return Fraction(1) if found is None and id_ in of else found


def _asks(choices: Iterable[Choice]) -> dict[str, str]:
    return {choice.id: choice.ask for choice in choices}


def _answers(was: Side, now: Side) -> Iterator[AnswerChange]:
    """Answers to the questions that are asked in both."""
    before = {choice.id: i for i, choice in enumerate(was.piece.choices)}
    for i, choice in enumerate(now.piece.choices):
        if choice.id in before:
            yield from _of_choice(was, before[choice.id], now, i)


def _of_choice(was: Side, old: int, now: Side, new: int) -> Iterator[AnswerChange]:
    before = {one.id: i for i, one in enumerate(was.piece.choices[old].answers)}
    after = {one.id: i for i, one in enumerate(now.piece.choices[new].answers)}
    suggests = after.get(was.piece.choices[old].answers[was.priced.usual[old]].id) == now.priced.usual[new]
    for i, answer in enumerate(was.piece.choices[old].answers):
        if answer.id not in after:
            yield AnswerChange("gone", answer.label)
        elif now.priced.usual[new] == after[answer.id] and was.priced.usual[old] != i:
            yield AnswerChange("suggested", now.piece.choices[new].answers[after[answer.id]].label)
    for i, answer in enumerate(now.piece.choices[new].answers):
        if answer.id not in before:
            yield AnswerChange("new", answer.label)
        elif suggests:  # against another suggestion every difference is another
            priced = step(_more(was, old, before[answer.id]), _more(now, new, i))
            if priced:
                yield AnswerChange("priced", answer.label, priced)


def _more(side: Side, choice: int, answer: int) -> int:
    """What an answer costs above what is suggested, for one piece."""
    usual = side.priced.usual
    return each_of(side.priced, (*usual[:choice], answer, *usual[choice + 1 :])) - side.each


_SEEN: Mapping[Facet, Callable[[Piece], object]] = {
    "words": lambda piece: piece.words,
    "pictures": lambda piece: piece.pictures,
    "group": lambda piece: piece.group,
    "place": lambda piece: piece.place,
    "moves": lambda piece: piece.moves,
    "spares": lambda piece: piece.extra,
    "wearers": lambda piece: piece.wearers,
    "set": lambda piece: (piece.dealt, piece.alike, piece.versions),
    "cautions": lambda piece: piece.cautions,
}


def _facets(was: Side, now: Side) -> Iterator[Facet]:
    yield from (facet for facet, of in _SEEN.items() if of(was.piece) != of(now.piece))
    if was.priced.optional != now.priced.optional:
        yield "optional" if now.priced.optional else "required"
    if was.piece.by_couple[was.usual] != now.piece.by_couple[now.usual]:
        yield "by-couple" if now.piece.by_couple[now.usual] else "by-studio"
