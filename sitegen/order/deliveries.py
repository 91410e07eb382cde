"""What comes together: the order's rows by delivery day and supplier."""

from collections.abc import Iterable
from dataclasses import dataclass

from sitegen.model.content import Shared
from sitegen.order.calendar import Arrival
from sitegen.order.order import Order, Row


@dataclass(frozen=True, slots=True)
class Delivery:
    """What one supplier brings on one day, or has ready to be fetched; no arrival where no day suits."""

    supplier: str
    arrival: Arrival | None
    rows: tuple[Row, ...]

    @property
    def stems(self) -> tuple[Row, ...]:
        return tuple(row for row in self.rows if row.thing.kind == "stem")

    @property
    def to_order(self) -> bool:
        """Whether anything of it has not been ordered yet."""
        return any(row.placed is None for row in self.rows)

    @property
    def bunches(self) -> int:
        return sum(row.packs for row in self.stems)


def deliveries(order: Order) -> tuple[Delivery, ...]:
    """Group all that comes by day, then as suppliers.yaml lists them; unknown days come last."""
    return by_delivery(order.rows, order.priced.shared)


def by_delivery(rows: Iterable[Row], shared: Shared) -> tuple[Delivery, ...]:
    """Group *rows* as `deliveries` does."""
    place = {name: i for i, name in enumerate(shared.suppliers)}
    groups: dict[tuple[bool, str, int], list[Row]] = {}
    for row in rows:
        day = row.arrival.day.isoformat() if row.arrival else ""
        groups.setdefault((row.arrival is None, day, place[row.supplier]), []).append(row)
    return tuple(
        Delivery(group[0].supplier, group[0].arrival, tuple(group)) for _, group in sorted(groups.items())
    )
