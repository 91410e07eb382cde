"""One event through all stages but the making of pictures: checked, priced, ordered, ready to be rendered."""

import datetime as dt
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from pathlib import Path

from sitegen.build.approved import Stand, stand
from sitegen.build.stand_ins import named, unused
from sitegen.check import photos
from sitegen.check.event import check_event
from sitegen.check.shared import SharedFound
from sitegen.choices.paying import payments_after
from sitegen.choices.picks import Picks, usual_picks
from sitegen.choices.sound import sums
from sitegen.choices.table import Table, table
from sitegen.choices.totals import Totals, totals
from sitegen.load.tree import EventFiles
from sitegen.model.content import EventFolder
from sitegen.order.buy import buy
from sitegen.order.last import as_it_was, nothing_bought
from sitegen.order.market import Buyer
from sitegen.order.order import Order, order
from sitegen.order.placed import Placed
from sitegen.order.plan import Plan, plan_of
from sitegen.order.plan_notes import plan_notes
from sitegen.pictures.head import PhotoFault, PhotoHead
from sitegen.pictures.memo import Memo, remembered_head
from sitegen.price.event import price_event
from sitegen.price.priced import PricedEvent
from sitegen.records.bought import placings
from sitegen.render.estimate import received
from sitegen.values.problem import Problem, has_errors


@dataclass(frozen=True, slots=True)
class Worked:
    """An event worked out, with the heads of its photos by file name.

    `content` is what the files say. `priced` and `picks` are that at what we suggest, or once approved what
    was approved; `table`, `totals`, `order` and `plan` are theirs.
    """

    content: PricedEvent
    stand: Stand
    table: Table
    totals: Totals
    order: Order
    plan: Plan
    heads: Mapping[str, PhotoHead]

    @property
    def priced(self) -> PricedEvent:
        return self.stand.priced

    @property
    def picks(self) -> Picks:
        return self.stand.picks

    @property
    def folder(self) -> EventFolder:
        return self.priced.folder


def work_out(
    files: EventFiles,
    checked: SharedFound,
    today: dt.date,
    memo: Memo,
    buyer: Buyer = buy,
    last: Callable[[str], Placed | None] = lambda _event: None,
) -> tuple[Worked | None, list[Problem]]:
    """Check, price and order one event; None where something is wrong with it, or with the shared files.

    *last* knows the last order of each event, which one that is over keeps while it needs the same.
    """
    found = check_event(files, checked.shared)
    if checked.shared is None or found.folder is None or not checked.sound:
        return None, found.problems
    heads, problems = _heads(found.folder, memo)
    content = price_event(checked.shared, found.folder)
    now = stand(content, files, heads, today)
    folder, content = content.folder, now.content
    prices = table(now.priced)
    summed = totals(prices, now.picks)
    summed = replace(summed, payments=payments_after(summed.payments, received(now.priced)))
    ordered = _kept(now, today, last) or order(now.priced, now.picks, today, placings(now.records), buyer)
    plan = plan_of(ordered)
    own = sums(content, _suggested(content) if now.approved else summed)
    problems = [
        *found.problems,
        *(() if now.approved else unused(folder, folder.event.swaps, named(folder))),
        *problems,
        *own,
        *ordered.problems,
        *plan_notes(ordered, plan, today),
        *now.problems,
    ]
    if has_errors(problems):
        return None, problems
    return Worked(content, now, prices, summed, ordered, plan, heads), problems


def _kept(now: Stand, today: dt.date, last: Callable[[str], Placed | None]) -> Order | None:
    """The last order of an event that is over and was not placed."""
    folder = now.priced.folder
    if (folder.event.closed is None and folder.event.date >= today) or placings(now.records):
        return None
    known = last(folder.id)
    return as_it_was(order(now.priced, now.picks, today, (), nothing_bought), known) if known else None


def _suggested(content: PricedEvent) -> Totals:
    prices = table(content)
    return totals(prices, usual_picks(prices))


def _heads(folder: EventFolder, memo: Memo) -> tuple[dict[str, PhotoHead], list[Problem]]:
    heads: dict[str, PhotoHead] = {}
    wrong: list[PhotoFault] = []
    for name, path in folder.photos.items():
        head = remembered_head(memo, path)
        if isinstance(head, PhotoFault):
            wrong.append(head)
        else:
            heads[name] = head
    return heads, list(photos.faults(folder.pieces, folder.photos, wrong))


def photo_problems(folder: EventFolder, faults: Mapping[Path, PhotoFault]) -> list[Problem]:
    """Place what was wrong with photos when they were decoded."""
    return list(photos.faults(folder.pieces, folder.photos, faults.values()))
