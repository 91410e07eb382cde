"""Stems in season on the event's day; where one is not, those that could stand in for it."""

from collections.abc import Iterator

from sitegen.check.colour import difference
from sitegen.check.names_used import stem_lines
from sitegen.check.partial import NO_DAY
from sitegen.model.catalogue import Stem
from sitegen.model.content import PieceFile, Shared
from sitegen.model.event import Event
from sitegen.values.node import Map, place_at
from sitegen.values.problem import Problem
from sitegen.values.source import Place
from sitegen.values.when import MONTHS

_NEAREST = 3


def of_piece(piece: PieceFile, event: Event, shared: Shared) -> Iterator[Problem]:
    """Each stem of a piece has an offer in the event's month, unless the event says what stands in for it."""
    if event.date == NO_DAY:
        return
    replaced = {swap.from_ for swap in event.swaps}
    reported: set[str] = set()
    for name, path, is_key in stem_lines(piece):
        stem = shared.stems.get(name)
        if stem is None or not stem.offers or name in replaced or name in reported:
            continue
        if stem.offer_on(event.date.month) is None:
            reported.add(name)
            yield _out(name, stem, event, shared, place_at(piece.node, path, key=is_key))


def of_stand_ins(event: Event, node: Map, shared: Shared) -> Iterator[Problem]:
    """What stands in for a stem must be in season itself."""
    for i, swap in enumerate(event.swaps if event.date != NO_DAY else ()):
        stem = shared.stems.get(swap.to)
        if stem is not None and stem.offers and stem.offer_on(event.date.month) is None:
            yield _out(swap.to, stem, event, shared, place_at(node, ("swaps", i, "to")))


def _out(name: str, stem: Stem, event: Event, shared: Shared, place: Place) -> Problem:
    month = MONTHS[event.date.month - 1]
    others = sorted(
        (difference(stem.colour, other.colour), other_name)
        for other_name, other in shared.stems.items()
        if other.role == stem.role and other_name not in event.avoid and other.offer_on(event.date.month)
    )
    near = [other for _, other in others[:_NEAREST]]
    fix = f"take {', '.join(near)}, or add an offer for {month}" if near else f"add an offer for {month}"
    offers = place_at(shared.nodes.stems, (name, "offers"), key=True)
    what = f"{name} has no offer in {month}"
    year = _year(stem, event.date.month)
    why = f"On the day nobody sells it, so it cannot be priced or ordered. Its year: {year}."
    return Problem("stem-season", place, what, why, fix, related=(("its offers", offers),))


def _year(stem: Stem, month: int) -> str:
    """Draw the months in which a stem is sold, that of the event in brackets: `J F M A [·] · ·`."""
    sold = (any(offer.in_season(one) for offer in stem.offers) for one in range(1, 13))
    cells = [name[0] if yes else "·" for name, yes in zip(MONTHS, sold, strict=True)]
    cells[month - 1] = f"[{cells[month - 1]}]"
    return " ".join(cells)
