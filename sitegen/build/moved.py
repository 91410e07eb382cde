"""What has moved since an approval, and what it does to what is left; no agreed figure follows it."""

from collections.abc import Iterator, Mapping
from fractions import Fraction

from sitegen.choices.picks import Picks
from sitegen.choices.totals import totals
from sitegen.order.order import portions
from sitegen.price.priced import PricedEvent
from sitegen.records.agreed import Approved
from sitegen.records.difference import difference, matched
from sitegen.records.restored import gone
from sitegen.records.snapshot import Snapshot
from sitegen.records.snapshot import portions as frozen_portions
from sitegen.render.compare import studio_changes
from sitegen.render.desk_progress import Move, Moved
from sitegen.render.money import MoneyFormat
from sitegen.render.voice import florist_voice
from sitegen.reply.carry import carry
from sitegen.values.money import Currency
from sitegen.values.node import place_at
from sitegen.values.problem import Problem

MOVED = "approved-moved"
_MOST_TOLD = 6
_NONE = Fraction(0)
Costs = Mapping[str, Fraction]


def moved(agreed: Approved, was: Snapshot, now: Snapshot, content: PricedEvent) -> Moved:
    """Hold today's content against what was approved, at the same picks and before there is an order."""
    picks = agreed.approval.picks
    then, today = _then(was, picks), _today(was, picks, now, content)
    money = Currency(was.shown.currency, was.shown.table.digits)
    sums = totals(was.shown.table, picks)
    before_tax = sums.total - sum(sums.tax)
    same = _same(was, now)
    follow = {
        change.label or "Discount" for change in difference(was.shown, now.shown).sums if not change.terms
    }
    moves = [
        Move(row.name, row.what, -_more(then, today, same.get(row.piece, ""), money))
        for row in studio_changes(was, now).rows
        if row.piece or row.name not in follow
    ]
    moves += [Move(name, "no longer in the catalogue", 0) for name in gone(was, content.shared)]
    return Moved(
        agreed.day,
        tuple(moves),
        before_tax - money.units(sum(then.values(), _NONE)),
        before_tax - money.units(sum(today.values(), _NONE)),
    )


def _more(then: Costs, today: Costs, piece: str, money: Currency) -> int:
    """How much more a piece costs today, by the id it was approved under; nothing for what is no piece."""
    return money.units(today.get(piece, _NONE)) - money.units(then.get(piece, _NONE))


def _then(was: Snapshot, picks: Picks) -> Costs:
    return {one.id: one.cost * one.copies for one in frozen_portions(was, picks)}


def _today(was: Snapshot, picks: Picks, now: Snapshot, content: PricedEvent) -> Costs:
    """The same pieces at today's content and catalogue; one that is gone still costs what it did."""
    carried, _ = carry(picks, was.shown, now.shown)
    same = _same(was, now)
    costs = {same[one.id]: one.cost * one.copies for one in portions(content, carried) if one.id in same}
    still = set(same.values())
    return {id_: costs.get(id_, _NONE if id_ in still else cost) for id_, cost in _then(was, picks).items()}


def _same(was: Snapshot, now: Snapshot) -> Mapping[str, str]:
    """The id under which each piece of today was approved."""
    pairs = matched(was.shown, now.shown).items()
    return {now.shown.pieces[at].id: was.shown.pieces[of].id for at, of in pairs}


def _costs(found: Moved, money: MoneyFormat) -> str:
    more = found.was - found.now
    if not more:
        return "What is in its recipes costs no more and no less today."
    word = "more" if more > 0 else "less"
    return f"Made from your files of today, what is in its recipes costs {money.exact(abs(more))} {word}."


def moved_problem(found: Moved, content: PricedEvent) -> Iterator[Problem]:
    """Warn of what has moved; that it changes no agreed figure, and how to agree on it anew."""
    if not found.moves:
        return
    event = content.folder
    money = florist_voice(content.shared.studio.language, content.shared.currency).money
    names = [f"{one.name} ({one.what})" if one.what else one.name for one in found.moves]
    more = f" and {len(names) - _MOST_TOLD} more" if len(names) > _MOST_TOLD else ""
    yield Problem(
        code=MOVED,
        place=place_at(event.node, ("event",)),
        what=f"since the approval of {found.day} has changed: {'; '.join(names[:_MOST_TOLD])}{more}",
        why=f"What was approved stands, whatever changes. {_costs(found, money)}",
        fix=f"leave it; or agree on it anew: sitegen send {event.id}, then sitegen approve {event.id}",
        severity="warning",
        event=event.id,
    )
