"""What was placed against what is wanted now: what is lacking still, and which packs are no longer needed.

Nothing is bought twice, and a need that did not change asks for nothing, whatever the market does.
"""

import datetime as dt
from collections import Counter
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from sitegen.order.buy import Thing, Want
from sitegen.order.placed import Bought, Covered, Holding, Placing, covered, holdings
from sitegen.values.number import total

Cuts = tuple[tuple[Fraction, int], ...]


@dataclass(frozen=True, slots=True)
class Gone:
    """So many packs of what was placed are no longer needed; `lost` where they will not come."""

    holding: Holding
    packs: int
    lost: bool = False

    @property
    def left(self) -> Bought:
        return self.holding.bought.without(self.packs)

    @property
    def saved(self) -> Fraction:
        return self.holding.bought.cost - self.left.cost


def counted(cuts: Iterable[Fraction]) -> Cuts:
    """Write cuts as lengths and how many of each, the longest first."""
    return tuple(sorted(Counter(cuts).items(), reverse=True))


def covers_of(wants: Iterable[Want], missing: Collection[Thing] = ()) -> tuple[Covered, ...]:
    """Write down the need that is covered when all *wants* are bought but what is *missing*."""
    return tuple(
        Covered(want.thing.kind, want.thing.id, want.amount, counted(want.cuts))
        for want in wants
        if want.thing not in missing
    )


def lacking(wants: Iterable[Want], placings: Sequence[Placing]) -> tuple[Want, ...]:
    """Give what has to be bought beside all that was placed; without a placing, all that is wanted."""
    if not placings:
        return tuple(wants)
    held, before = _by_thing(holdings(placings)), covered(placings)
    found = (_lacking(want, held.get(want.thing, ()), before.get(want.thing)) for want in wants)
    return tuple(want for want in found if want is not None)


def _lacking(want: Want, held: Sequence[Holding], before: Covered | None) -> Want | None:
    """What an event bought for together with others has a part of may be less than its own whole stems."""
    bought = total(one.bought.amount for one in held)
    have = max(bought + want.held, before.amount if before else Fraction(0))
    rolls = _rolls(one.bought for one in held) + ([want.held] if want.held else [])
    known = before is not None and counted(want.cuts) == before.cuts
    loose = () if known else _loose(want.cuts, rolls, before.cuts if before else ())
    amount = max(want.amount - have, total(loose))
    return replace(want, amount=amount, cuts=loose, held=Fraction(0)) if amount > 0 else None


def from_same_growers(things: Collection[Thing], placings: Sequence[Placing]) -> dict[Thing, frozenset[str]]:
    """Name who was to bring each of *things* that is on its way: what is added should look the same."""
    found: dict[Thing, frozenset[str]] = {}
    for one in holdings(placings):
        if one.bought.thing in things:
            known = found.get(one.bought.thing, frozenset())
            found[one.bought.thing] = known | {one.bought.supplier}
    return found


def not_coming(lost: Collection[Thing], placings: Sequence[Placing]) -> tuple[Gone, ...]:
    """Give all that was placed of the things that are *lost*, also on the day on which they were to come."""
    held = (one for one in holdings(placings) if one.bought.thing in lost)
    return tuple(Gone(one, one.bought.packs, lost=True) for one in held)


def no_longer_needed(
    wants: Iterable[Want],
    placings: Sequence[Placing],
    minimums: Mapping[str, Fraction],
    added: Mapping[str, Fraction],
    today: dt.date,
    lost: Collection[Thing] = (),
) -> tuple[Gone, ...]:
    """Give the packs to cancel: whole ones beyond a need that fell, where that saves money.

    *added* is the money that goes to each supplier anew. A supplier whose minimum was reached, and that is
    still bought from, keeps what reaches it. What is *lost* is not among them, and reaches no minimum.
    """
    asked, before = {want.thing: want for want in wants}, covered(placings)
    coming = tuple(one for one in holdings(placings) if one.bought.thing not in lost)
    found = [
        gone
        for thing, held in _by_thing(coming).items()
        if thing in before
        for gone in _spare(asked.get(thing), held, before[thing], today)
    ]
    suppliers = dict.fromkeys(gone.holding.bought.supplier for gone in found)
    spent: dict[str, Fraction] = dict(added)
    for one in coming:
        spent[one.bought.supplier] = spent.get(one.bought.supplier, Fraction(0)) + one.bought.cost
    return tuple(
        gone
        for name in suppliers
        for gone in _above_minimum(
            [gone for gone in found if gone.holding.bought.supplier == name],
            spent[name],
            minimums.get(name, Fraction(0)),
        )
    )


def _above_minimum(found: Sequence[Gone], spent: Fraction, least: Fraction) -> Iterator[Gone]:
    left = spent - total(gone.saved for gone in found)
    if left == 0 or left >= least or spent < least:
        yield from found
        return
    for gone in found:
        fewer = (Gone(gone.holding, n) for n in range(gone.packs, 0, -1))
        best = next((one for one in fewer if 0 < one.saved <= spent - least), None)
        if best is not None:
            spent -= best.saved
            yield best


def _spare(want: Want | None, held: Sequence[Holding], before: Covered, today: dt.date) -> Iterator[Gone]:
    """The last placed go first: their suppliers have had the least time. What has come is not sent back."""
    needed, cuts = (want.amount, want.cuts) if want else (Fraction(0), ())
    if needed >= before.amount:
        return
    left = [one.bought for one in held]
    excess = total(bought.amount for bought in left) + (want.held if want else 0) - needed
    loose = len(_loose(cuts, _rolls(left), ()))
    for i, one in reversed(list(enumerate(held))):
        if one.bought.day is not None and one.bought.day <= today:
            continue
        others = _rolls((*left[:i], *left[i + 1 :]))
        choices = [Gone(one, n) for n in range(1, min(one.bought.packs, excess // one.bought.size) + 1)]
        able = [gone for gone in choices if len(_loose(cuts, [*others, *_rolls([gone.left])], ())) == loose]
        best = max(able, key=lambda gone: (gone.saved, gone.packs), default=None)
        if best is not None and best.saved > 0:
            excess -= best.packs * one.bought.size
            left[i] = best.left
            yield best


def _rolls(boughts: Iterable[Bought]) -> list[Fraction]:
    """The lengths that are there to cut from: whole rolls, and of a shared one what is this event's."""
    found = []
    for bought in boughts:
        whole, rest = divmod(bought.amount, bought.size)
        found += [bought.size] * whole + ([rest] if rest else [])
    return found


def _loose(cuts: Sequence[Fraction], rolls: Sequence[Fraction], before: Cuts) -> tuple[Fraction, ...]:
    """Name the cuts that find no room, longest first; one that was too long for any roll before is joined."""
    left, longest, loose = list(rolls), max(rolls, default=Fraction(0)), []
    joined = {length: n for length, n in before if length > longest}
    for cut in sorted(cuts, reverse=True):
        at = next((i for i, room in enumerate(left) if room >= cut), None)
        if at is not None:
            left[at] -= cut
        elif joined.get(cut, 0):
            joined[cut] -= 1
        else:
            loose.append(cut)
    return tuple(loose)


def _by_thing(held: Iterable[Holding]) -> dict[Thing, list[Holding]]:
    of_thing: dict[Thing, list[Holding]] = {}
    for one in held:
        of_thing.setdefault(one.bought.thing, []).append(one)
    return of_thing
