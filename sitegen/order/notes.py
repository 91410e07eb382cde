"""What the florist has to know about an order before she sends it: warnings with their places."""

from collections.abc import Iterable, Mapping

from sitegen.order.buy import Purchases, Seller, Thing, below_minimum
from sitegen.price.priced import PricedEvent
from sitegen.values.node import place_at
from sitegen.values.problem import Problem


def notes(
    priced: PricedEvent, purchases: Purchases, asked: Mapping[str, Seller], late: Iterable[Thing]
) -> tuple[Problem, ...]:
    """Warn of what can no longer come in time, and of suppliers whose minimum is not reached."""
    too_late = tuple(_too_late(priced, thing) for thing in late)
    return too_late + _below(priced, purchases, asked)


def _too_late(priced: PricedEvent, thing: Thing) -> Problem:
    nodes, shared = priced.shared.nodes, priced.shared
    stem = thing.kind == "stem"
    name = (shared.stems if stem else shared.goods)[thing.id].name
    lots = "offers" if stem else "packs"
    return Problem(
        code="order-too-late",
        place=place_at(nodes.stems if stem else nodes.goods, (thing.id, lots)),
        what=f"nobody can bring {name} in time for {priced.folder.event.date}",
        why="the last day to order it has passed, or no delivery day falls in its span, "
        "so the order is made as if there were no lead days",
        fix="ring the supplier, add one who is quicker, or swap it in the event",
        severity="warning",
        event=priced.folder.id,
    )


def _below(priced: PricedEvent, purchases: Purchases, asked: Mapping[str, Seller]) -> tuple[Problem, ...]:
    shared, money = priced.shared, priced.shared.currency
    return tuple(
        Problem(
            code="order-below-minimum",
            place=place_at(shared.nodes.suppliers, (supplier, "minimum")),
            what=f"the order from {shared.suppliers[supplier].name} is {money.text(money.units(lacking))} "
            f"below its minimum of {money.text(money.units(asked[supplier].minimum))}",
            why="the supplier may refuse it, and a stem bought elsewhere then costs more",
            fix="buy more there, or take its offers out of stems.yaml for this event",
            severity="warning",
            event=priced.folder.id,
        )
        for supplier, lacking in below_minimum(purchases, asked).items()
    )
