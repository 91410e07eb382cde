"""What to keep of a proposal at or under a budget.

Kept is what stands at its usual answer, count and place in the proposal: the most of what matters, then with
the fewest changes, then the dearest total that the budget allows.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from sitegen.choices.picks import Pick, Picks
from sitegen.choices.table import Table
from sitegen.choices.totals import totals
from sitegen.fit.asked import Ask, Reached, Setting
from sitegen.fit.search import Found, search
from sitegen.fit.straight import apart
from sitegen.fit.ways import Matter, all_counts, cheapest, sensible, ways_of


@dataclass(frozen=True, slots=True)
class GivenUp:
    """Something that does not stay as it is usually: a piece's place, its count, or its answer to a *choice*.

    `matters` is how much it matters itself, and `weight` how much of what matters goes with it: with a piece
    its place, its count and its answers. `saves` is what the total would be more with it back, in smallest
    units.
    """

    piece: int
    choice: int | None
    matters: int
    weight: int
    saves: int


@dataclass(frozen=True, slots=True)
class Fit:
    """Picks that keep within a budget, their total, and what is given up for it.

    `kept` of `matters` in all is kept. `proven` where nothing better is left.
    """

    picks: Picks
    total: int
    kept: int
    matters: int
    given_up: tuple[GivenUp, ...]
    proven: bool


@dataclass(frozen=True, slots=True)
class Fitted:
    """The best *fit* of a budget, None where even the *least* is above it; and the steps on either side.

    `less` is the best fit once the budget no longer holds what is kept, `more` that of the next budget that
    holds more; None where there is no such step.
    """

    fit: Fit | None
    least: Fit
    less: Fit | None = None
    more: Fit | None = None


@dataclass(frozen=True, slots=True)
class _All:
    """A table with the charges chosen, what matters of its pieces, and the ways of each."""

    matters: tuple[Matter, ...]
    setting: Setting
    apart: int | None

    @property
    def whole(self) -> int:
        return sum(matter.whole for matter in self.matters)


def fit(table: Table, matters: Sequence[Matter], charges: frozenset[int], budget: int) -> Fitted:
    """Fit a proposal with those optional *charges* into *budget*, in smallest units; exactly."""
    every = _all(table, matters, charges)
    best = _fit(every, budget)
    if best is None:
        return Fitted(None, _least(every))
    lost = every.whole - best.kept
    return Fitted(best, best, _less(every, lost), _more(every, lost))


def best_fit(table: Table, matters: Sequence[Matter], charges: frozenset[int], budget: int) -> Fit | None:
    """Give the best fit alone, without the steps on either side; None where even the least is too much."""
    return _fit(_all(table, matters, charges), budget)


def _all(table: Table, matters: Sequence[Matter], charges: frozenset[int]) -> _All:
    ways = tuple(ways_of(piece, matter) for piece, matter in zip(table.pieces, matters, strict=True))
    setting = Setting(table, charges, ways)
    return _All(tuple(matters), setting, apart(table, charges, setting.span.least))


def _least(every: _All) -> Fit:
    """The cheapest of all, and of that what keeps the most."""
    found = search(_few(every), Ask("cheapest"))
    if found.best is None:
        raise ValueError("a table of pieces has a cheapest")
    return _fit(every, found.best.total) or _told(every, found.best, proven=False)


def _less(every: _All, lost: int) -> Fit | None:
    """Below the least budget that loses no more than *lost*, what fits then."""
    found = search(_few(every), Ask("cheapest", lost=lost))
    return _fit(every, found.best.total - 1) if found.best else None


def _more(every: _All, lost: int) -> Fit | None:
    """What fits the least budget that loses less than *lost*."""
    if not lost:
        return None
    found = search(_few(every), Ask("cheapest", lost=lost - 1))
    return _fit(every, found.best.total) if found.best else None


def _few(every: _All) -> Setting:
    ways = tuple(cheapest(ways, every.apart) for ways in every.setting.ways)
    return replace(every.setting, ways=ways)


def _fit(every: _All, budget: int) -> Fit | None:
    first = search(_few(every), Ask("least lost", budget))
    if first.best is None:
        return None
    then = _dearest(every, budget, first.best)
    if then.best is None:
        raise ValueError("a search that starts with something ends with something")
    return _told(every, then.best, proven=first.proven and then.proven)


def _dearest(every: _All, budget: int, of: Reached) -> Found:
    """Of all that loses and changes as little, the dearest within the budget."""
    lost, changes = of.lost, of.changes
    ways = tuple(
        tuple(way for way in sensible(ways, every.apart) if way.lost <= lost and way.changes <= changes)
        for ways in every.setting.ways
    )
    return search(replace(every.setting, ways=ways), Ask("dearest", budget, lost, changes), of)


def _told(every: _All, found: Reached, *, proven: bool) -> Fit:
    table, charges = every.setting.table, every.setting.charges
    picks = Picks(tuple(way.pick for way in found.ways), charges)
    return Fit(
        picks=picks,
        total=found.total,
        kept=every.whole - found.lost,
        matters=every.whole,
        given_up=tuple(_given_up(table, every.matters, picks, found.total)),
        proven=proven and all(map(all_counts, table.pieces)),
    )


def _given_up(table: Table, matters: Sequence[Matter], picks: Picks, total: int) -> Iterator[GivenUp]:
    for at, (piece, pick, matter) in enumerate(zip(table.pieces, picks.pieces, matters, strict=True)):

        def saves(back: Pick, at: int = at) -> int:
            pieces = (*picks.pieces[:at], back, *picks.pieces[at + 1 :])
            return totals(table, replace(picks, pieces=pieces)).total - total

        if pick.out or (not pick.quantity and piece.quantity):
            yield GivenUp(at, None, matter.piece, matter.whole, saves(Pick(piece.usual, piece.quantity)))
            continue
        if pick.quantity != piece.quantity:
            yield GivenUp(at, None, matter.piece, matter.piece, saves(replace(pick, quantity=piece.quantity)))
        for c, answer in enumerate(pick.answers):
            if answer != piece.usual[c]:
                answers = (*pick.answers[:c], piece.usual[c], *pick.answers[c + 1 :])
                yield GivenUp(
                    at, c, matter.answers[c], matter.answers[c], saves(replace(pick, answers=answers))
                )
