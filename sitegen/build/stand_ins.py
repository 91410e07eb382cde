"""Stand-ins that an event names after its approval: they change what is made, and no price.

Which of an event's `swaps` are late, the approved revision says: those that its prices hold already are not.
"""

from collections.abc import Container, Iterable, Iterator, Sequence
from dataclasses import replace

from sitegen.choices.picks import Picks
from sitegen.model.content import EventFolder
from sitegen.model.event import StandIn
from sitegen.order.order import portions
from sitegen.price.event import price_event
from sitegen.price.priced import PricedEvent
from sitegen.records.keeping import swapped
from sitegen.records.snapshot import Snapshot
from sitegen.values.node import place_at
from sitegen.values.problem import Problem


def late_swaps(content: PricedEvent, agreed: Snapshot) -> tuple[StandIn, ...]:
    """Give the stand-ins that were not yet there when what is approved was priced."""
    known = set(agreed.kept.swapped)
    swaps = content.folder.event.swaps
    return tuple(swap for swap, one in zip(swaps, swapped(swaps), strict=True) if one not in known)


def without(content: PricedEvent, late: Sequence[StandIn]) -> PricedEvent:
    """Price the content anew without the *late* ones: so a change is priced after an approval."""
    folder = content.folder
    early = tuple(swap for swap in folder.event.swaps if swap not in late)
    event = folder.event.model_copy(update={"swaps": early})
    return price_event(content.shared, replace(folder, event=event))


def unused(folder: EventFolder, swaps: Iterable[StandIn], used: Container[str]) -> Iterator[Problem]:
    """Warn of stand-ins for a stem that is not among those *used*: nothing would change by them."""
    listed = list(folder.event.swaps)
    for swap in swaps:
        if swap.from_ not in used:
            yield Problem(
                code="swap-unused",
                place=place_at(folder.node, ("swaps", listed.index(swap), "from")),
                what=f"{swap.to} stands in for {swap.from_}, which no piece uses",
                why="Nothing changes by this line; most likely another stem was meant.",
                fix="name the stem that is not to be had, or take the line out",
                severity="warning",
                event=folder.id,
            )


def named(folder: EventFolder) -> frozenset[str]:
    """Name all stems that the pieces may use at any answers, before any stand-in."""
    found: set[str] = set()
    for file in folder.pieces:
        found.update(file.piece.recipe)
        for choice in file.piece.choices:
            for answer in choice.answers:
                found.update(answer.recipe, answer.swap.values())
    return frozenset(found)


def stood_for(priced: PricedEvent, picks: Picks) -> frozenset[str]:
    """Name the stems for which others stand in since, in what is made at *picks*."""
    return frozenset(one.old for portion in portions(priced, picks) for one in portion.made.stood_in)
