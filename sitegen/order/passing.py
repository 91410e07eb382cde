"""What placed orders have to spare, passed on to other events that are bought for with them.

What was placed for one event counts as bought for all of them: it serves another where it comes on a day that
suits both, and where a stem would not be mixed from two growers. Its part of the cost goes with it; what was
paid for its delivery stays where it was paid.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from sitegen.order.asked import Asked
from sitegen.order.market import Thing, Want
from sitegen.order.order import Order
from sitegen.order.placed import Holding, holdings
from sitegen.order.rolls import lay_on
from sitegen.values.money import share
from sitegen.values.number import total

_NONE = Fraction(0)


@dataclass(frozen=True, slots=True)
class Passed:
    """So much of what was placed for *giver* serves *taker*, both by index, and its part of the cost."""

    giver: int
    taker: int
    holding: Holding
    amount: Fraction
    cost: Fraction = _NONE
    cuts: tuple[Fraction, ...] = ()

    @property
    def thing(self) -> Thing:
        return self.holding.bought.thing


@dataclass(frozen=True, slots=True)
class _Room:
    """What is left of a row, or of one roll of it."""

    giver: int
    holding: Holding
    left: Fraction

    @property
    def supplier(self) -> str:
        return self.holding.bought.supplier


def passed_on(asked: Asked, *, harmless: bool) -> tuple[Passed, ...]:
    """Say what of all that was placed serves whom: the earliest first to need it there.

    With *harmless*, only what leaves nobody with fewer growers to choose from, so that no order costs more by
    it: what covers all that is lacking, or what may be mixed.
    """
    rooms = [room for i, order in enumerate(asked.orders) for room in _to_spare(i, order)]
    found: list[Passed] = []
    for thing in dict.fromkeys(room.holding.bought.thing for room in rooms):
        for taker in asked.takers(thing):
            mine = [room for room in rooms if room.holding.bought.thing == thing and room.giver != taker]
            suiting = [room for room in mine if _suits(asked, taker, room)]
            pairs = tuple(_passes(asked, taker, thing, suiting))
            passes = [one for _, one in pairs]
            if not harmless or asked.mixes(thing, taker) or covers_all(asked, taker, thing, passes):
                rooms = [_less(room, pairs) for room in rooms]
                found += passes
    return _with_costs(asked, found)


def less_passed(asked: Asked, passes: Sequence[Passed]) -> Asked:
    """Give what is still asked for when *passes* serve: of a stem that is not mixed, from the same grower."""
    lacks = [dict(one) for one in asked.lacks]
    exact, whole = ([dict(one) for one in many] for many in (asked.exact, asked.whole))
    on_sale = [dict(one) for one in asked.on_sale]
    for taker, thing in dict.fromkeys((one.taker, one.thing) for one in passes):
        mine = [one for one in passes if (one.taker, one.thing) == (taker, thing)]
        amount = total(one.amount for one in mine)
        if covers_all(asked, taker, thing, mine):
            del lacks[taker][thing]
            continue
        want = lacks[taker][thing]
        cuts = list(want.cuts)
        for cut in (cut for one in mine for cut in one.cuts):
            cuts.remove(cut)
        lacks[taker][thing] = replace(want, amount=want.amount - amount, cuts=tuple(cuts))
        exact[taker][thing] = max(exact[taker][thing] - amount, _NONE)
        whole[taker][thing] = max(whole[taker][thing] - amount, _NONE)
        if not asked.mixes(thing, taker):
            on_sale[taker][thing] = asked.still_from(mine[0].holding.bought.supplier, thing, taker)
    return replace(asked, lacks=tuple(lacks), exact=tuple(exact), whole=tuple(whole), on_sale=tuple(on_sale))


def covers_all(asked: Asked, taker: int, thing: Thing, passes: Sequence[Passed]) -> bool:
    """Tell whether *passes*, and what is in hand, are all that *taker* lacks of a thing."""
    want = asked.lacks[taker][thing]
    if asked.by_length(thing):
        cuts = _cuts(want, asked.held(thing, taker))
        return bool(passes) and sum(len(one.cuts) for one in passes) == len(cuts)
    return total(one.amount for one in passes) + asked.held(thing, taker) >= want.amount


def _to_spare(giver: int, order: Order) -> Iterator[_Room]:
    """What was placed for an event beyond its need; what was placed last is given first."""
    wants = {want.thing: want for want in order.wanted}
    by_thing: dict[Thing, list[Holding]] = {}
    for one in holdings(order.before.placings):
        if one.bought.thing not in order.lost:
            by_thing.setdefault(one.bought.thing, []).append(one)
    for thing, held in by_thing.items():
        want = wants.get(thing) or Want(thing, _NONE)
        if held[0].bought.length is not None:
            yield from _ends(giver, want, held)
            continue
        excess = total(one.bought.amount for one in held) - want.amount
        for one in reversed(held):
            if excess > 0:
                yield _Room(giver, one, min(excess, one.bought.amount))
                excess -= one.bought.amount


def _ends(giver: int, want: Want, held: Sequence[Holding]) -> Iterator[_Room]:
    """What is left of each roll once the event's own cuts lie on them, with their loss."""
    rolls = [(one, size) for one in held for size in _rolls_of(one)]
    cuts = _cuts(want, _NONE)
    laid = lay_on(cuts, [size for _, size in rolls])
    if sum(len(roll.cuts) for roll in laid) == len(cuts):
        yield from (_Room(giver, one, roll.left) for (one, _), roll in zip(rolls, laid, strict=True))


def _rolls_of(one: Holding) -> list[Fraction]:
    whole, rest = divmod(one.bought.amount, one.bought.size)
    return [one.bought.size] * int(whole) + ([rest] if rest else [])


def _cuts(want: Want, held: Fraction) -> list[Fraction]:
    """What is to be cut from others' rolls, each with its loss: not what a roll in hand has room for."""
    if not want.cuts:
        return []
    loss = want.amount / total(want.cuts)
    on_hand = set(lay_on(want.cuts, [held])[0].cuts) if held else set()
    return [cut * loss for i, cut in enumerate(want.cuts) if i not in on_hand]


def _suits(asked: Asked, taker: int, room: _Room) -> bool:
    """Stems come on a day that suits the taker, goods by its last; what was placed there is not mixed."""
    bought = room.holding.bought
    days = asked.window(bought.thing, taker)
    if bought.day is None or bought.day > days.last or not room.left:
        return False
    if bought.kind == "good":
        return True
    own = asked.growers(bought.thing, taker)
    mixes = asked.mixes(bought.thing, taker)
    return bought.day >= days.first and (mixes or not own or room.supplier in own)


def _passes(asked: Asked, taker: int, thing: Thing, rooms: Sequence[_Room]) -> Iterator[tuple[_Room, Passed]]:
    want, held = asked.lacks[taker][thing], asked.held(thing, taker)
    if asked.by_length(thing):
        cuts = _cuts(want, held)
        for room, roll in zip(rooms, lay_on(cuts, [room.left for room in rooms]), strict=True):
            if laid := [cuts[i] for i in roll.cuts]:
                bare = tuple(cut * total(want.cuts) / want.amount for cut in laid)
                yield room, Passed(room.giver, taker, room.holding, total(laid), cuts=bare)
        return
    left = want.amount - held
    for room in rooms if asked.mixes(thing, taker) else _of_one_grower(rooms):
        if left > 0:
            yield room, Passed(room.giver, taker, room.holding, min(left, room.left))
            left -= room.left


def _of_one_grower(rooms: Sequence[_Room]) -> list[_Room]:
    """Take what the grower has of whom most is to spare; of equal ones, the first."""
    most: dict[str, Fraction] = {}
    for room in rooms:
        most[room.supplier] = most.get(room.supplier, _NONE) + room.left
    best = max(most, key=lambda name: most[name], default="")
    return [room for room in rooms if room.supplier == best]


def _less(room: _Room, pairs: Sequence[tuple[_Room, Passed]]) -> _Room:
    return replace(room, left=room.left - total(one.amount for of, one in pairs if of is room))


def _with_costs(asked: Asked, passes: Sequence[Passed]) -> tuple[Passed, ...]:
    """Give each its part of what its row cost, by amount, in whole smallest units."""
    money = asked.orders[0].priced.shared.currency
    left: dict[tuple[int, Holding], tuple[Fraction, Fraction]] = {}
    found = []
    for one in passes:
        bought = one.holding.bought
        amount, cost = left.get((one.giver, one.holding), (bought.amount, bought.cost))
        rest = amount - one.amount
        part = money.amount(share(money.units(cost), [one.amount, rest])[0]) if rest else cost
        left[one.giver, one.holding] = (rest, cost - part)
        found.append(replace(one, cost=part))
    return tuple(found)
