"""What pricing gives: every combination of answers of every piece, priced."""

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction

from sitegen.model.content import EventFolder, PieceFile, Shared, Terms
from sitegen.values.bag import Bag
from sitegen.values.length import Length


@dataclass(frozen=True, slots=True)
class StoodIn:
    """A stem that stands in for another since the price was agreed, and why, where that was said."""

    old: str
    new: str
    why: str


@dataclass(frozen=True, slots=True)
class Made:
    """What goes into one piece for one combination of answers: stems, goods, minutes, added money.

    Stems are counted after bunches, swaps and the event's stand-ins; none is 0. `kept` names those that a
    varied set has the same in each, as they are called after all swaps. `stood_in` names the stand-ins that
    came after the price was agreed: `recipe` is what is made, whatever was priced.
    """

    recipe: Bag
    goods: Mapping[str, Fraction | Length]
    minutes: Fraction
    add: Fraction
    by_couple: bool
    kept: tuple[str, ...] = ()
    stood_in: tuple[StoodIn, ...] = ()


@dataclass(frozen=True, slots=True)
class Combination:
    """One combination of answers, an index into each choice's answers, in the choices' order.

    `exact` is the computed price before own prices and rounding, in whole
    units of the currency; `each` is the price in its smallest unit; `cost` is
    private, exact, with loss and without labour.
    """

    answers: tuple[int, ...]
    made: Made
    exact: Fraction
    each: int
    cost: Fraction


@dataclass(frozen=True, slots=True)
class PricedPiece:
    """A piece with all its combinations, the last choice turning fastest, and the index of the usual one."""

    file: PieceFile
    combinations: tuple[Combination, ...]
    usual: int

    @property
    def id(self) -> str:
        return self.file.id

    @property
    def as_suggested(self) -> Combination:
        return self.combinations[self.usual]

    def at(self, answers: tuple[int, ...]) -> Combination:
        """Give the combination for *answers* (an index for each choice)."""
        index = 0
        for choice, answer in zip(self.file.piece.choices, answers, strict=True):
            index = index * len(choice.answers) + answer
        return self.combinations[index]


@dataclass(frozen=True, slots=True)
class Worth:
    """What dealing a varied set has to know of a stem: what one is worth, and whether it may be halved.

    `cost` is what prices count, exact, in whole units of the currency, with the loss only where prices hold
    it. `weight` is by its role alone, for a piece whose price does not count costs. Private.
    """

    stem: str
    cost: Fraction
    halves: bool = False
    weight: int = 0


@dataclass(frozen=True, slots=True)
class PricedEvent:
    """An event with every piece priced, and the terms that hold for it.

    `worths` are those of all stems in its varied sets.
    """

    shared: Shared
    folder: EventFolder
    terms: Terms
    pieces: tuple[PricedPiece, ...]
    worths: tuple[Worth, ...] = ()
