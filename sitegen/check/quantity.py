"""Quantities: numbers, and counts that the event states once."""

from sitegen.check.names import unknown
from sitegen.model.content import Bounds
from sitegen.model.event import Event
from sitegen.model.piece import Count, Piece
from sitegen.values.node import ABSENT, Map, Path, blank, place_at
from sitegen.values.problem import Problem
from sitegen.values.source import Place

MOST_PIECES = 9_999


def bounds(piece: Piece, event: Event, node: Map, event_node: Map) -> tuple[Bounds, list[Problem]]:
    """Count how many pieces, and between which numbers the couple may choose."""
    problems: list[Problem] = []
    given = piece.quantity

    def number(count: Count | None, key: str) -> int | None:
        if count is None:
            return None
        value, problem = _number(count, event, _place(node, key), event_node)
        problems.extend(problem or _many(value, _place(node, key)))
        return value

    usual = number(given.usual, "usual")
    least, most = number(given.from_, "from"), number(given.to, "to")
    if usual is None:
        return Bounds(1, 1, 1), problems
    found = Bounds(usual, usual if least is None else least, usual if most is None else most)
    if not problems and not found.least <= found.usual <= found.most:
        problems.append(_order(found, node))
    if not problems and found.most == 0:
        problems.append(_none(given.usual, node, event_node))
    problems += [*_many(piece.extra, place_at(node, ("extra",))), *_wearers(piece, usual, node)]
    return found, problems


def _many(value: int | None, place: Place) -> list[Problem]:
    if value is None or value <= MOST_PIECES:
        return []
    what = f"{value:,} pieces are more than {MOST_PIECES:,}"
    why = "Pull lists and labels have a line for each one."
    return [Problem("quantity-many", place, what, why, f"write a number up to {MOST_PIECES}")]


def _place(node: Map, key: str) -> Place:
    inner: Path = ("quantity", key)
    value = node.entries.get("quantity")
    return place_at(node, inner if value and isinstance(value[1], Map) else ("quantity",))


def _number(count: Count, event: Event, place: Place, event_node: Map) -> tuple[int | None, list[Problem]]:
    if count.of is None:
        return count.times, []
    if count.of == ABSENT:
        return None, []
    if count.of in event.counts:
        return count.times * event.counts[count.of], []
    holder = event_node.entries.get("counts")
    if holder and not isinstance(holder[1], Map) and not blank(holder[1]):
        return None, []  # the counts could not be read, and that is reported there
    known = holder[1] if holder and isinstance(holder[1], Map) else Map({}, event_node.place)
    if count.of in known.entries:
        return None, []  # the count itself failed to read, and is reported there
    why = "The quantity is counted from the event's counts."
    return None, [unknown("count-unknown", "count", count.of, place, known, why)]


def _none(usual: Count, node: Map, event_node: Map) -> Problem:
    what = "there are none of this piece"
    why = "It stands in the proposal without a price, and nothing of it is ordered."
    fix = "write how many, or take the file out of the folder"
    related = ((f"{usual.of}", place_at(event_node, ("counts", usual.of), key=True)),) if usual.of else ()
    return Problem("quantity-none", _place(node, "usual"), what, why, fix, "warning", related)


def _order(found: Bounds, node: Map) -> Problem:
    why = "The couple choose how many between from and to."
    if found.least > found.most:
        what = f"from is {found.least}, above to, which is {found.most}"
        return Problem("quantity-bounds", _place(node, "from"), what, why, "exchange the two, or mend one")
    what = f"as we suggest {found.usual}, but from {found.least} to {found.most}"
    return Problem("quantity-bounds", _place(node, "usual"), what, why, "let usual lie between from and to")


def _wearers(piece: Piece, usual: int, node: Map) -> list[Problem]:
    if not piece.wearers or len(piece.wearers) == usual:
        return []
    what = f"wearers named: {len(piece.wearers)}, pieces made: {usual}"
    why = "Labels are printed with these names, one for each piece."
    place = place_at(node, ("wearers",), key=True)
    return [Problem("wearers-count", place, what, why, "name each wearer, or change the quantity", "warning")]
