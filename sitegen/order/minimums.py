"""Where a minimum order makes more be bought than is needed, and what there would be instead."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from sitegen.order.market import Buyer, Lot, Purchase, Purchases, Seller, Thing, Want
from sitegen.order.rolls import lay_on
from sitegen.values.number import total


@dataclass(frozen=True, slots=True)
class Task:
    """What a buyer is asked: wants, lots that can come, and what their sellers ask for."""

    wants: Sequence[Want]
    lots: Sequence[Lot]
    sellers: Mapping[str, Seller]


@dataclass(frozen=True, slots=True)
class AboveNeed:
    """A supplier whose minimum is above what is needed there.

    `extra` are packs bought only to reach it; `saved` is what the order would cost less without the minimum;
    `without` what it would cost more without the supplier, None where that leaves `only_theirs` with nobody.
    """

    supplier: str
    extra: tuple[Purchase, ...]
    saved: Fraction
    without: Fraction | None
    only_theirs: tuple[Thing, ...]


def above_need(task: Task, bought: Purchases, buyer: Buyer) -> tuple[AboveNeed, ...]:
    """Find the suppliers of whom more is bought than is needed, and ask *buyer* what else there is."""
    found = ((name, _extra(task, bought, name)) for name in bought.deliveries if task.sellers[name].minimum)
    return tuple(_instead(task, bought, buyer, (name, extra)) for name, extra in found if extra)


def _extra(task: Task, bought: Purchases, supplier: str) -> tuple[Purchase, ...]:
    """Give the packs without which all would still be there, for less, and the minimum not reached."""
    spare = bought.spent_at(supplier) - task.sellers[supplier].minimum
    wants = {want.thing: want for want in task.wants}
    extra = []
    for row in bought.rows:
        if row.lot.supplier == supplier:
            same = [other for other in bought.rows if other.lot.thing == row.lot.thing]
            fewer = _fewest(wants[row.lot.thing], same, row)
            less = Purchase(row.lot, fewer).cost if fewer else Fraction(0)
            if spare < row.cost - less:
                extra.append(Purchase(row.lot, row.packs - fewer))
    return tuple(extra)


def _fewest(want: Want, rows: Sequence[Purchase], of: Purchase) -> int:
    """Give how many packs of one row would do, with the other rows of the thing as they are."""
    for packs in range(of.packs):
        left = [(row.lot.size, packs if row is of else row.packs) for row in rows]
        if _enough(want, [size for size, n in left for _ in range(n)]):
            return packs
    return of.packs


def _enough(want: Want, sizes: Sequence[Fraction]) -> bool:
    if total((*sizes, want.held)) < want.amount:
        return False
    rolls = sorted((*sizes, want.held), reverse=True)
    longest = rolls[0]
    laid = lay_on([cut for cut in want.cuts if cut <= longest], rolls)
    return sum(len(roll.cuts) for roll in laid) == sum(cut <= longest for cut in want.cuts)


def _instead(
    task: Task, bought: Purchases, buyer: Buyer, found: tuple[str, tuple[Purchase, ...]]
) -> AboveNeed:
    supplier, extra = found
    free = replace(task.sellers[supplier], minimum=Fraction(0))
    waived = buyer(task.wants, task.lots, {**task.sellers, supplier: free})
    others = [lot for lot in task.lots if lot.supplier != supplier]
    left = buyer(task.wants, others, task.sellers)
    alone = tuple(thing for thing in left.missing if thing not in bought.missing)
    return AboveNeed(
        supplier=supplier,
        extra=extra,
        saved=bought.cost - waived.cost,
        without=None if alone else left.cost - bought.cost,
        only_theirs=alone,
    )
