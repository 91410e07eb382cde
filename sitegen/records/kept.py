"""What the studio keeps of a revision for itself: recipes, work, costs. Never in anything a couple gets."""

from dataclasses import dataclass
from fractions import Fraction
from typing import TypeAlias

from sitegen.price.priced import Worth
from sitegen.records.shown import Goods, Named

Recipe: TypeAlias = tuple[tuple[str, Fraction], ...]


@dataclass(frozen=True, slots=True)
class KeptPiece:
    """Of one piece, for each combination of answers in the table's order.

    Which of `recipes` and `goods` it has, its minutes, the money its answers add, and what it costs: exact,
    in whole units of the currency, with loss and without labour. Of a varied set also which stems are the
    same in each.
    """

    recipes: tuple[Recipe, ...]
    recipe_of: tuple[int, ...]
    goods: tuple[Goods, ...]
    goods_of: tuple[int, ...]
    minutes: tuple[Fraction, ...]
    added: tuple[Fraction, ...]
    cost: tuple[Fraction, ...]
    same: tuple[tuple[str, ...], ...] = ()
    same_of: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class Swapped:
    """So many of *new* in place of one *old*, everywhere in the event, as its prices have it."""

    old: str
    new: str
    each: Fraction


@dataclass(frozen=True, slots=True)
class Kept:
    """The private part of a snapshot; pieces in the order in which they were shown.

    With the `worths` of then a varied set is dealt as it was. `swapped` are the stand-ins that recipes and
    prices hold already.
    """

    pieces: tuple[KeptPiece, ...]
    stems: tuple[Named, ...]
    goods: tuple[Named, ...]
    worths: tuple[Worth, ...] = ()
    swapped: tuple[Swapped, ...] = ()
