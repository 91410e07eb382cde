"""What the florist has to know of a varied set that cannot be dealt as she asked: why, and what is done."""

from collections.abc import Callable, Mapping
from dataclasses import replace
from fractions import Fraction

from sitegen.model.piece import Varied
from sitegen.order.sets import VariedSet
from sitegen.price.priced import PricedEvent
from sitegen.values.node import Map, node_at, place_at
from sitegen.values.number import decimal_text
from sitegen.values.problem import Problem
from sitegen.varied.asked import Why
from sitegen.varied.deal import MOST_VERSIONS

_WHOLE = "Stems are dealt whole, each piece gets as many, and all together stay what is priced and bought."


def set_notes(priced: PricedEvent, sets: Mapping[str, VariedSet]) -> tuple[Problem, ...]:
    """Warn of each rule of a varied set that its deal does not meet."""
    return tuple(
        replace(_SAID[why](piece.file.piece.varied, sets[piece.id], piece.file.node), event=priced.folder.id)
        for piece in priced.pieces
        if piece.file.piece.varied is not None and piece.id in sets
        for why in _told(sets[piece.id].deal.why, piece.file.node)
    )


def _told(why: tuple[Why, ...], node: Map) -> tuple[Why, ...]:
    """Likeness is missed only where it is written; who strays is told where nothing else is the cause."""
    written = node_at(node, ("varied", "alike")) is not None
    told = tuple(one for one in why if one != "far" and (one != "alike" or written))
    return told or tuple(one for one in why if one == "far")


def _alike(varied: Varied, dealt: VariedSet, node: Map) -> Problem:
    least = dealt.deal.least
    return Problem(
        code="deal-alike",
        place=place_at(node, ("varied", "alike")),
        what=f"two of the set should share {_percent(varied.alike)} of their stems at least, "
        f"and in the nearest deal share {_percent(least)}",
        why=_WHOLE,
        fix=f"write alike: {decimal_text(Fraction(least * 100 // 1, 100))}, or name more stems under keep",
        severity="warning",
    )


def _far(varied: Varied, dealt: VariedSet, node: Map) -> Problem:
    ones, stem = dealt.copies, _farthest(dealt)
    uneven = varied.versions is not None and len(ones) % varied.versions
    counts = sorted(copy.get(stem, Fraction(0)) for copy in ones)
    recipe = sum(counts, Fraction(0)) / len(ones)
    return Problem(
        code="deal-far",
        place=place_at(node, ("varied",)),
        what=f"one of the set gets {decimal_text(counts[-1])} of {stem} and another "
        f"{decimal_text(counts[0])}, where the recipe says {decimal_text(recipe, 2)}",
        why=f"Nearer to the recipe there are not enough that differ. {_WHOLE}",
        fix=f"write a number of versions: that divides {len(ones)}, or take it out"
        if uneven
        else "write fewer versions:, or add another kind to the recipe",
        severity="warning",
    )


def _farthest(dealt: VariedSet) -> str:
    """Name the stem whose counts differ most."""
    kinds = dict.fromkeys(stem for copy in dealt.copies for stem in copy)
    counts = {stem: [copy.get(stem, Fraction(0)) for copy in dealt.copies] for stem in kinds}
    return max(counts, key=lambda stem: max(counts[stem]) - min(counts[stem]))


def _few(varied: Varied, dealt: VariedSet, node: Map) -> Problem:
    versions, copies = dealt.deal.versions, len(dealt.copies)
    if varied.versions is not None and versions > varied.versions:
        return _versions(varied, dealt, node)
    if versions == 1:
        what = f"no two of the {copies} can be told apart, so all are made alike"
        fix = "take stems off keep, add another kind to the recipe, or take out varied"
    else:
        what = f"of the {varied.versions or copies} that should differ, no more than {versions} do"
        fix = f"write versions: {versions}, take stems off keep, or add another kind to the recipe"
    return Problem(
        code="deal-few",
        place=place_at(node, ("varied",)),
        what=what,
        why=f"There is too little that they could exchange. {_WHOLE}",
        fix=fix,
        severity="warning",
    )


def _versions(varied: Varied, dealt: VariedSet, node: Map) -> Problem:
    versions, copies = dealt.deal.versions, len(dealt.copies)
    asked = "one version" if varied.versions == 1 else f"{varied.versions} versions"
    return Problem(
        code="deal-versions",
        place=place_at(node, ("varied", "versions")),
        what=f"{asked} cannot hold the stems of {copies} pieces, so there are {versions}",
        why=_WHOLE,
        fix=f"write versions: {versions}, or counts of stems that divide",
        severity="warning",
    )


def _many(_varied: Varied, dealt: VariedSet, node: Map) -> Problem:
    versions = dealt.deal.versions
    return Problem(
        code="deal-many",
        place=place_at(node, ("varied",)),
        what=f"not all {len(dealt.copies)} of the set differ: they are made from {versions} recipes",
        why=f"No more than {MOST_VERSIONS} recipes are dealt for a set: nobody could tell more at a glance.",
        fix=f"write versions: {versions}",
        severity="warning",
    )


_SAID: Mapping[Why, Callable[[Varied, VariedSet, Map], Problem]] = {
    "alike": _alike,
    "far": _far,
    "few": _few,
    "versions": _versions,
    "many": _many,
}


def _percent(share: Fraction) -> str:
    return f"{decimal_text(share * 100, 0)}%"
