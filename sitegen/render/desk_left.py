"""What is left of a proposal: after materials, and after hands."""

from dataclasses import dataclass
from fractions import Fraction

from sitegen.choices.picks import Pick, Picks
from sitegen.choices.totals import Totals
from sitegen.order.order import Order
from sitegen.price.priced import PricedEvent, PricedPiece
from sitegen.values.money import share
from sitegen.values.number import total

_NONE = Fraction(0)


@dataclass(frozen=True, slots=True)
class Left:
    """In smallest units: the proposal without tax, and what the order takes of it, in three parts."""

    before_tax: int
    stems: int
    goods: int
    deliveries: int

    @property
    def after_materials(self) -> int:
        return self.before_tax - self.stems - self.goods - self.deliveries


def left_of(totals: Totals, order: Order) -> Left:
    """Subtotal less discount plus charges, without tax also where it is contained, less the order's cost.

    The order is rounded once; its parts add up to it.
    """
    before_tax = totals.total - sum(totals.tax)
    parts = [
        total(row.bought.cost for row in order.rows if row.thing.kind == "stem"),
        total(row.bought.cost for row in order.rows if row.thing.kind == "good"),
        total(order.deliveries.values()),
    ]
    cost = order.priced.shared.currency.units(order.cost)
    stems, goods, deliveries = share(cost, parts) if order.cost else (0, 0, 0)
    return Left(before_tax, stems, goods, deliveries)


def hours(priced: PricedEvent, picks: Picks) -> Fraction:
    """Hours of hands: building, extra pieces too, and on site and at second places for each of the hands.

    What the couple make themselves takes no building here.
    """
    both = zip(priced.pieces, picks.pieces, strict=True)
    return total(_minutes(one, pick) for one, pick in both if pick.quantity and not pick.out) / 60


def _minutes(priced: PricedPiece, pick: Pick) -> Fraction:
    piece, made = priced.file.piece, priced.at(pick.answers).made
    on_site = piece.site.minutes * piece.site.hands
    if piece.second_place:
        on_site += piece.second_place.minutes * piece.second_place.hands
    building = _NONE if made.by_couple else made.minutes * (pick.quantity + piece.extra)
    return building + on_site * pick.quantity
