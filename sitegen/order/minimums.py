"""Where a minimum order makes more be bought than is needed, and what there would be instead."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from math import ceil

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
    others = total((*(row.amount for row in rows if row is not of), want.held))
    fewest = max(0, ceil((want.amount - others) / of.lot.size))
    # More rolls than cuts never help.
    most = min(of.packs, max(fewest, len(want.cuts)))
    fitting = (packs for packs in range(fewest, most + 1) if _laid(want, rows, of, packs))
    return min(next(fitting, of.packs), of.packs)


def _laid(want: Want, rows: Sequence[Purchase], of: Purchase, packs: int) -> bool:
    """Tell whether the cuts lie whole on the rolls, but for those that are longer than any."""
    counts = [(row.lot.size, min(packs if row is of else row.packs, len(want.cuts))) for row in rows]
    rolls = sorted((*(size for size, n in counts for _ in range(n)), want.held), reverse=True)
    cuts = [cut for cut in want.cuts if cut <= rolls[0]]
    return sum(len(roll.cuts) for roll in lay_on(cuts, rolls)) == len(cuts)


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
