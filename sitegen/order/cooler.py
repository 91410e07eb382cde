"""Who stands cold and who warm, who gives ethylene off and who suffers from it, and when they meet."""

import datetime as dt
from dataclasses import dataclass

from sitegen.order.order import Order
from sitegen.order.trips import trips


@dataclass(frozen=True, slots=True)
class Range:
    """A published range to keep stems in: degrees in both scales, and percent of humidity where told."""

    fahrenheit: tuple[int, int]
    celsius: tuple[int, int]
    humidity: tuple[int, int] | None = None

    def degrees(self, *, metric: bool) -> str:
        """Print both scales, the studio's own first: `34–38 °F (1–3 °C)`."""
        (f1, f2), (c1, c2) = self.fahrenheit, self.celsius
        imperial, celsius = f"{f1}–{f2} °F", f"{c1}–{c2} °C"
        return f"{celsius} ({imperial})" if metric else f"{imperial} ({celsius})"


# Florists' Review, "The journey to fresh" (floristsreview.com/the-journey-to-fresh): temperate flowers 34 to
# 38 °F at 75 to 85 % humidity, tropical ones 55 to 65 °F. Degrees Celsius are these, rounded to whole ones.
COLD = Range((34, 38), (1, 3), (75, 85))
WARM = Range((55, 65), (13, 18))


@dataclass(frozen=True, slots=True)
class Meeting:
    """A stem that gives ethylene off, those that suffer from it, and the days on which they meet."""

    giver: str
    sufferers: tuple[str, ...]
    first: dt.date
    last: dt.date


@dataclass(frozen=True, slots=True)
class Cooler:
    """Stems by name of the catalogue, in the order in which the recipes use them."""

    cold: tuple[str, ...]
    warm: tuple[str, ...]
    givers: tuple[str, ...]
    sufferers: tuple[str, ...]
    meetings: tuple[Meeting, ...]


def cooler(order: Order) -> Cooler:
    """Sort the stems of *order*. One that nobody can date is taken to come on the event's day."""
    stems = {id_: order.priced.shared.stems[id_] for id_ in order.need.stems}
    givers = tuple(id_ for id_, stem in stems.items() if stem.ethylene == "gives")
    sufferers = tuple(id_ for id_, stem in stems.items() if stem.ethylene == "sensitive")
    return Cooler(
        cold=tuple(id_ for id_, stem in stems.items() if stem.store == "cold"),
        warm=tuple(id_ for id_, stem in stems.items() if stem.store == "warm"),
        givers=givers,
        sufferers=sufferers,
        meetings=_meetings(order, givers, sufferers),
    )


def _meetings(order: Order, givers: tuple[str, ...], sufferers: tuple[str, ...]) -> tuple[Meeting, ...]:
    """Stems stand in the studio from the day they come until the van leaves, built in or not."""
    last = min((trip.day for trip in trips(order)), default=order.priced.folder.event.date)
    come: dict[str, dt.date] = {}
    for row in order.rows:
        if row.thing.kind == "stem":
            day = row.arrival.day if row.arrival else last
            come[row.thing.id] = min(day, come.get(row.thing.id, day))
    here = [id_ for id_ in sufferers if come.get(id_, last) <= last]
    found = []
    for giver in givers:
        if here and come.get(giver, last) <= last:
            first = max(come.get(giver, last), min(come.get(id_, last) for id_ in here))
            found.append(Meeting(giver, tuple(here), first, last))
    return tuple(found)
