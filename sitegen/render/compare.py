"""What changed between two revisions as the florist sees it: with cost and what is left. Private."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction

from sitegen.order.need import Portion
from sitegen.price.priced import PricedEvent
from sitegen.records.change import Step
from sitegen.records.difference import difference, matched, sums_of
from sitegen.records.snapshot import Snapshot, index_of, material_cost, opened
from sitegen.render.changes import tell
from sitegen.render.recipe import stood_in
from sitegen.render.voice import Voice, florist_voice
from sitegen.values.money import Currency


@dataclass(frozen=True, slots=True)
class StudioRow:
    """A line of what changed; money in smallest units, 0 where it did not move. `piece` is an id or empty."""

    piece: str
    name: str
    what: str
    line: int
    cost: int

    @property
    def left(self) -> int:
        """What the line leaves more or less after materials; a tax leaves nothing, and stands with 0 cost."""
        return self.line - self.cost


@dataclass(frozen=True, slots=True)
class StudioChanges:
    """What changed at what each side suggests. Cost is that of all pieces made, before there is an order."""

    rows: tuple[StudioRow, ...]
    total: Step[int]
    before_tax: Step[int]
    cost: Step[int]

    @property
    def left(self) -> Step[int]:
        """Left after what is in the recipes, without tax: an order in whole bunches leaves less."""
        return Step(self.before_tax.was - self.cost.was, self.before_tax.now - self.cost.now)


def studio_changes(was: Snapshot, now: Snapshot) -> StudioChanges:
    """Give all that changed between two snapshots, also where no couple could see it."""
    before, after = sums_of(was.shown), sums_of(now.shown)
    return StudioChanges(
        rows=tuple(_rows(was, now, florist_voice(now.shown.language, _money(now)))),
        total=Step(before.total, after.total),
        before_tax=Step(before.total - sum(before.tax), after.total - sum(after.tax)),
        cost=Step(_cost(was, range(len(was.kept.pieces))), _cost(now, range(len(now.kept.pieces)))),
    )


def late_changes(priced: PricedEvent, portions: Sequence[Portion]) -> tuple[StudioRow, ...]:
    """Name the stand-ins that came after an approval: they change what is made, and no price."""
    voice = florist_voice(priced.shared.studio.language, priced.shared.currency)
    titles = {piece.id: piece.file.piece.piece for piece in priced.pieces}
    told = ((one, stood_in([one.made], priced.shared.stems, voice.words)) for one in portions)
    return tuple(StudioRow(one.id, titles[one.id], "; ".join(said), 0, 0) for one, said in told if said)


def _cost(of: Snapshot, pieces: Sequence[int]) -> int:
    """Rounded once, in smallest units."""
    exact = sum((material_cost(of, at) for at in pieces), Fraction(0))
    return _money(of).units(exact)


def _money(of: Snapshot) -> Currency:
    return Currency(of.shown.currency, of.shown.table.digits)


def _rows(was: Snapshot, now: Snapshot, voice: Voice) -> Iterator[StudioRow]:
    """What the couple see first, then pieces of which only the studio's side moved."""
    old = {piece.id: at for at, piece in enumerate(was.shown.pieces)}
    new = {piece.id: at for at, piece in enumerate(now.shown.pieces)}
    same = {now.shown.pieces[at].id: before for at, before in matched(was.shown, now.shown).items()}
    told = set()
    for one in tell(difference(opened(was), opened(now)), opened(now), voice):
        before, after = same.get(one.piece, old.get(one.piece)), new.get(one.piece)
        cost = _moved(was, before, now, after) if one.piece else 0
        private = tuple(_private(was, before, now, after, voice))
        yield StudioRow(one.piece, one.name, "; ".join(filter(None, (one.what, *private))), one.moved, cost)
        told.add(one.piece)
    for id_, before in same.items():
        cost = _moved(was, before, now, new[id_])
        private = tuple(_private(was, before, now, new[id_], voice))
        if id_ not in told and (cost or private):
            what = "; ".join(private) or voice.words("its materials cost otherwise")
            yield StudioRow(id_, now.shown.pieces[new[id_]].title, what, 0, cost)


def _moved(was: Snapshot, before: int | None, now: Snapshot, after: int | None) -> int:
    first = 0 if before is None else _cost(was, (before,))
    return (0 if after is None else _cost(now, (after,))) - first


def _private(
    was: Snapshot, before: int | None, now: Snapshot, after: int | None, voice: Voice
) -> Iterator[str]:
    """What the couple are not told of a piece that stands on both sides."""
    if before is None or after is None:
        return
    first, then = _minutes(was, before), _minutes(now, after)
    if first != then:
        yield voice.words("{now} minutes instead of {was}", now=voice.amount(then), was=voice.amount(first))


def _minutes(of: Snapshot, at: int) -> Fraction:
    priced = of.shown.table.pieces[at]
    return of.kept.pieces[at].minutes[index_of(priced, priced.usual)]
