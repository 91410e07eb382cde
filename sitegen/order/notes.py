"""What the florist has to know about an order before she sends it: warnings with their places."""

from collections.abc import Mapping, Sequence

from sitegen.order.buy import Purchases, Seller, Thing, below_minimum
from sitegen.price.priced import PricedEvent
from sitegen.values.node import place_at
from sitegen.values.problem import Problem

_NAMED = 6


def notes(
    priced: PricedEvent, purchases: Purchases, asked: Mapping[str, Seller], late: Sequence[Thing]
) -> tuple[Problem, ...]:
    """Warn of what can no longer come in time, and of suppliers whose minimum is not reached."""
    return _too_late(priced, late) + _below(priced, purchases, asked)


def _too_late(priced: PricedEvent, late: Sequence[Thing]) -> tuple[Problem, ...]:
    """One warning for the event, however much can no longer come: it asks for one decision."""
    if not late:
        return ()
    names = [_name(priced, thing) for thing in late]
    more = f" and {len(names) - _NAMED} more" if len(names) > _NAMED else ""
    return (
        Problem(
            code="order-too-late",
            place=place_at(priced.folder.node, ("date",)),
            what=f"nobody can bring in time: {'; '.join(names[:_NAMED])}{more}",
            why="The last day to order has passed, or no delivery day falls in the span a stem allows, "
            "so the order is made as if there were no lead days.",
            fix="ring the suppliers, add one who is quicker, or swap the stem in the event",
            severity="warning",
            event=priced.folder.id,
        ),
    )


def _name(priced: PricedEvent, thing: Thing) -> str:
    shared = priced.shared
    return shared.stems[thing.id].name if thing.kind == "stem" else shared.goods[thing.id].name


def _below(priced: PricedEvent, purchases: Purchases, asked: Mapping[str, Seller]) -> tuple[Problem, ...]:
    shared, money = priced.shared, priced.shared.currency
    return tuple(
        Problem(
            code="order-below-minimum",
            place=place_at(shared.nodes.suppliers, (supplier, "minimum")),
            what=f"the order from {shared.suppliers[supplier].name} is {money.text(money.units(lacking))} "
            f"below its minimum of {money.text(money.units(asked[supplier].minimum))}",
            why="The supplier may refuse it, and a stem bought elsewhere then costs more.",
            fix="buy more there, or take its offers out of stems.yaml for this event",
            severity="warning",
            event=priced.folder.id,
        )
        for supplier, lacking in below_minimum(purchases, asked).items()
    )
