"""From a priced event to what the studio keeps of it."""

from collections.abc import Hashable, Iterable, Mapping
from typing import TypeVar

from sitegen.model.catalogue import Good, Stem
from sitegen.model.event import StandIn
from sitegen.price.priced import PricedEvent, PricedPiece
from sitegen.records.kept import Kept, KeptPiece, Swapped
from sitegen.records.shown import Named

T = TypeVar("T", bound=Hashable)


def once(values: Iterable[T]) -> tuple[tuple[T, ...], tuple[int, ...]]:
    """Give each of *values* once, and for each its index there: how a ribbon falls changes no stem."""
    known: dict[T, int] = {}
    indexes = tuple(known.setdefault(value, len(known)) for value in values)
    return tuple(known), indexes


def used(priced: PricedEvent) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Name all stems and goods that any combination takes, in the order in which they are first used."""
    made = [one.made for piece in priced.pieces for one in piece.combinations]
    stems = dict.fromkeys(id_ for one in made for id_ in one.recipe)
    goods = dict.fromkeys(id_ for one in made for id_ in one.goods)
    return tuple(stems), tuple(goods)


def kept_of(priced: PricedEvent) -> Kept:
    """Keep recipes, work and costs of every combination, and what the stems and goods in them are called."""
    shared = priced.shared
    stems, goods = used(priced)
    return Kept(
        pieces=tuple(map(_piece, priced.pieces)),
        stems=_named(stems, shared.stems),
        goods=_named(goods, shared.goods),
        worths=priced.worths,
        swapped=swapped(priced.folder.event.swaps),
    )


def swapped(swaps: Iterable[StandIn]) -> tuple[Swapped, ...]:
    """Keep what stands in for what; why is told where it changes a page, and no price hangs on it."""
    return tuple(Swapped(swap.from_, swap.to, swap.each) for swap in swaps)


def _piece(priced: PricedPiece) -> KeptPiece:
    combinations = priced.combinations
    recipes, recipe_of = once(tuple(one.made.recipe.items()) for one in combinations)
    goods, goods_of = once(tuple(one.made.goods.items()) for one in combinations)
    same, same_of = once(one.made.kept for one in combinations if priced.file.piece.varied)
    return KeptPiece(
        recipes=recipes,
        recipe_of=recipe_of,
        goods=goods,
        goods_of=goods_of,
        minutes=tuple(one.made.minutes for one in combinations),
        added=tuple(one.made.add for one in combinations),
        cost=tuple(one.cost for one in combinations),
        same=same,
        same_of=same_of,
    )


def _named(ids: Iterable[str], catalogue: Mapping[str, Stem] | Mapping[str, Good]) -> tuple[Named, ...]:
    return tuple(Named(id_, catalogue[id_].name) for id_ in ids)
