"""What cannot wait: stems that can no longer come, and a total below the least."""

from collections.abc import Iterator

from sitegen.choices.totals import Totals
from sitegen.order.buy import Thing
from sitegen.order.order import Order
from sitegen.price.priced import PricedEvent
from sitegen.render.voice import Voice

_MOST_NAMED = 3


def too_late(order: Order, voice: Voice) -> Iterator[str]:
    """Say what nobody can bring in time any more, and what nobody sells at all."""
    _ = voice.words
    if order.late:
        yield _("too late to order {names}", names=_named(order.late, order, voice))
    if order.missing:
        yield _("nobody sells {names}", names=_named(order.missing, order, voice))


def _named(things: tuple[Thing, ...], order: Order, voice: Voice) -> str:
    shared = order.priced.shared
    names = tuple((shared.stems if thing.kind == "stem" else shared.goods)[thing.id].name for thing in things)
    if len(names) > _MOST_NAMED:
        more = voice.words("{n} more", n=len(names) - _MOST_NAMED + 1)
        names = (*names[: _MOST_NAMED - 1], more)
    return "; ".join(names)  # a name has commas of its own


def below_least(priced: PricedEvent, totals: Totals, voice: Voice) -> Iterator[str]:
    """Say that the total is below the least that the event asks for."""
    least, money = priced.folder.event.least, priced.shared.currency
    if least is not None and totals.total < money.units(least):
        yield voice.words("below the least of {price}", price=voice.money.exact(money.units(least)))
