"""Every name that an event uses: stems, goods, places, vessels exist, and nothing avoided is used."""

from collections.abc import Iterator

from sitegen.check.names import unknown
from sitegen.model.content import PieceFile, Shared
from sitegen.model.event import Event
from sitegen.values.length import Length
from sitegen.values.nearest import nearest
from sitegen.values.node import ABSENT, Map, Path, place_at
from sitegen.values.number import shorten
from sitegen.values.problem import Problem

_STEM_WHY = "The piece is priced from its stems, and this one has no cost to add."
_GOOD_WHY = "The piece is priced from its goods, and this one has no cost to add."
_PLACE_WHY = "The run sheet sends the piece to one of the event's places."


def stem_lines(piece: PieceFile) -> Iterator[tuple[str, Path, bool]]:
    """Each stem that a piece names, the path of its line, and whether its name is the line's key."""
    yield from ((name, ("recipe", name), True) for name in piece.piece.recipe)
    for c, choice in enumerate(piece.piece.choices):
        for a, answer in enumerate(choice.answers):
            path: Path = ("choices", c, "answers", a)
            yield from ((name, (*path, "recipe", name), True) for name in answer.recipe)
            for out, into in answer.swap.items():
                yield out, (*path, "swap", out), True
                yield into, (*path, "swap", out), False


def of_piece(
    piece: PieceFile, event: Event, shared: Shared, event_node: Map, *, whole: bool
) -> Iterator[Problem]:
    """Check the names in a piece; *whole* tells that all its lines could be read."""
    for name, path, is_key in stem_lines(piece):
        place = place_at(piece.node, path, key=is_key)
        if name not in shared.nodes.stems.entries:
            yield unknown("stem-unknown", "stem", name, place, shared.nodes.stems, _STEM_WHY)
        elif name in event.avoid:
            there = place_at(event_node, ("avoid", event.avoid.index(name)))
            what = f"{name} is to be avoided"
            why = "The couple must not have it at their event."
            related = (("to be avoided", there),)
            yield Problem(
                "stem-avoided", place, what, why, "take another stem, or mend avoid", related=related
            )
    yield from _goods(piece, shared)
    yield from _varied(piece, shared, whole=whole)
    if event.places or "places" not in event_node.entries:  # else they are there and could not be read
        yield from _places(piece, event)


def _goods(piece: PieceFile, shared: Shared) -> Iterator[Problem]:
    lines: list[tuple[str, Path, object]] = [
        (name, ("goods", name), amount) for name, amount in piece.piece.goods.items()
    ]
    for c, choice in enumerate(piece.piece.choices):
        for a, answer in enumerate(choice.answers):
            path: Path = ("choices", c, "answers", a, "goods")
            lines += [(name, (*path, name), amount) for name, amount in answer.goods.items()]
    for name, path, amount in lines:
        if name not in shared.nodes.goods.entries:
            place = place_at(piece.node, path, key=True)
            yield unknown("good-unknown", "good", name, place, shared.nodes.goods, _GOOD_WHY)
        elif name in shared.goods and amount != 0:
            yield from _measure(piece, path, amount, by_length=shared.goods[name].by_length)


def _measure(piece: PieceFile, path: Path, amount: object, *, by_length: bool) -> Iterator[Problem]:
    if isinstance(amount, Length) != by_length:
        wanted = "a length, such as 0.5 yd or 50 cm" if by_length else "a number of pieces, such as 3"
        what = f"{path[-1]} is bought by the {'length' if by_length else 'piece'}"
        why = "Its cost is counted from the pack it is bought in."
        yield Problem("good-measure", place_at(piece.node, path), what, why, f"write {wanted}")


def _varied(piece: PieceFile, shared: Shared, *, whole: bool) -> Iterator[Problem]:
    varied = piece.piece.varied
    known = {name for name, _, _ in stem_lines(piece)}
    for i, name in enumerate(varied.keep if varied else ()):
        place = place_at(piece.node, ("varied", "keep", i))
        if name not in shared.nodes.stems.entries and name != ABSENT:
            yield unknown("stem-unknown", "stem", name, place, shared.nodes.stems, _STEM_WHY)
        elif whole and name not in known:
            what = f"{name} is kept in the set, and no line of the piece has it"
            why = "The stems under keep are the same in each of the set."
            yield Problem("keep-absent", place, what, why, "take it off keep, or add it to the recipe")


def _places(piece: PieceFile, event: Event) -> Iterator[Problem]:
    ids = [place.id for place in event.places]
    if ABSENT in ids:
        return
    at = piece.piece.place
    if at is not None and at not in ids and at != ABSENT:
        yield unknown("place-unknown", "place", at, place_at(piece.node, ("place",)), ids, _PLACE_WHY)
    then = piece.piece.second_place
    if then is not None and then.place not in ids and then.place != ABSENT:
        place = place_at(piece.node, ("second_place", "place"))
        yield unknown("place-unknown", "place", then.place, place, ids, _PLACE_WHY)


def of_event(event: Event, node: Map, shared: Shared) -> Iterator[Problem]:
    """Check the names in event.md."""
    stems = shared.nodes.stems
    for i, name in enumerate(event.avoid):
        if name not in stems.entries and name != ABSENT:
            why = "A misspelt stem would be used after all."
            yield unknown("stem-unknown", "stem", name, place_at(node, ("avoid", i)), stems, why)
    yield from _minded(event, node, shared)
    seen: set[str] = set()
    for i, swap in enumerate(event.swaps):
        for key, name in (("from", swap.from_), ("to", swap.to)):
            place = place_at(node, ("swaps", i, key))
            if name not in stems.entries and name != ABSENT:
                yield unknown("stem-unknown", "stem", name, place, stems, _STEM_WHY)
        if swap.to in event.avoid:
            what = f"{swap.to} is to be avoided"
            why = "The couple must not have it at their event."
            yield Problem("stem-avoided", place_at(node, ("swaps", i, "to")), what, why, "take another stem")
        if swap.from_ in seen and swap.from_ != ABSENT:
            what = f"two lines say what stands in for {swap.from_}"
            why = "Only one of them could count."
            yield Problem(
                "swap-repeated", place_at(node, ("swaps", i, "from")), what, why, "keep one of them"
            )
        seen.add(swap.from_)


def _minded(event: Event, node: Map, shared: Shared) -> Iterator[Problem]:
    """A caution that no stem carries is told to nobody: most likely it is misspelt."""
    if len(shared.stems) < len(shared.nodes.stems.entries):
        return  # some stem could not be read, and its cautions with it
    known = list(dict.fromkeys(kind for stem in shared.stems.values() for kind in stem.cautions))
    for i, kind in enumerate(event.mind):
        if kind not in known and kind != ABSENT:
            what = f'no stem has the caution "{shorten(kind)}"'
            why = "The couple are warned of the stems that carry a caution of just this name."
            near = nearest(kind, known)
            fix = f'write "{near}"' if near else "add it to the cautions of the stems that need it"
            yield Problem("mind-unknown", place_at(node, ("mind", i)), what, why, fix, "warning")
