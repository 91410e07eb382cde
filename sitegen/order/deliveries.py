"""What comes together: the order's rows by delivery day and supplier."""

from dataclasses import dataclass

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
    def bunches(self) -> int:
        return sum(row.bought.packs for row in self.stems)


def deliveries(order: Order) -> tuple[Delivery, ...]:
    """Group the order by day, then as suppliers.yaml lists them; unknown days come last."""
    place = {name: i for i, name in enumerate(order.priced.shared.suppliers)}
    groups: dict[tuple[bool, str, int], list[Row]] = {}
    for row in order.rows:
        day = row.arrival.day.isoformat() if row.arrival else ""
        groups.setdefault((row.arrival is None, day, place[row.supplier]), []).append(row)
    return tuple(
        Delivery(rows[0].supplier, rows[0].arrival, tuple(rows)) for _, rows in sorted(groups.items())
    )
