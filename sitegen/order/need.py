"""What an event needs: stems with their loss, goods by the piece and by length, and what is hired.

The sum over all pieces comes first, then the loss, then whole stems: rounding
each piece by itself would buy too much.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from fractions import Fraction
from math import ceil

from sitegen.model.catalogue import Good, Stem
from sitegen.price.priced import Made
from sitegen.values.bag import Bag, add, times
from sitegen.values.length import METRES, Length


@dataclass(frozen=True, slots=True)
class Portion:
    """A piece of the event as it was picked, and how many are made, the extra ones counted in.

    `cost` is what pricing counts for one of them. Private.
    """

    id: str
    made: Made
    copies: int
    cost: Fraction = Fraction(0)


@dataclass(frozen=True, slots=True)
class Cut:
    """A length to cut from a roll, for each of a piece's copies."""

    length: Length
    piece: str
    copies: int


@dataclass(frozen=True, slots=True)
class Need:
    """What has to be there, before stock; names stand in the order in which the recipes use them.

    `stems` and `pieces` are whole and hold the loss, and so do `lengths`; `cuts` are the lengths to
    measure, without it. `goods` names what is bought of pieces and lengths; `hire` comes back and is not.
    """

    stems: Mapping[str, int]
    pieces: Mapping[str, int]
    lengths: Mapping[str, Length]
    cuts: Mapping[str, tuple[Cut, ...]]
    hire: Mapping[str, int]
    goods: tuple[str, ...]


def need(
    portions: Iterable[Portion], stems: Mapping[str, Stem], goods: Mapping[str, Good], loss: Fraction
) -> Need:
    """Sum what *portions* take, then add the loss, then round up to whole stems and pieces, each once.

    A stem without a loss of its own takes *loss*; a good has only its own.
    Lengths stay exact, in the unit in which their first line was written. A
    second place needs no stems, so nothing here asks for one.
    """
    made = [portion for portion in portions if portion.copies]
    total = add(times(portion.made.recipe, portion.copies) for portion in made)
    counted = add(times(_counted(portion.made), portion.copies) for portion in made)
    cuts = _cuts(made)
    used = dict.fromkeys(name for portion in made for name in portion.made.goods)
    bought = tuple(name for name in used if goods[name].hire is None)
    return Need(
        stems={name: ceil(n * (1 + stem_loss(stems[name], loss))) for name, n in total.items()},
        pieces={name: ceil(counted[name] * (1 + goods[name].loss)) for name in bought if name in counted},
        lengths={name: _in_all(lines).times(1 + goods[name].loss) for name, lines in cuts.items()},
        cuts=cuts,
        hire={name: ceil(n) for name, n in counted.items() if goods[name].hire is not None},
        goods=bought,
    )


def stem_loss(stem: Stem, loss: Fraction) -> Fraction:
    return loss if stem.loss is None else stem.loss


def _counted(made: Made) -> Bag:
    return {name: amount for name, amount in made.goods.items() if not isinstance(amount, Length)}


def _cuts(portions: Iterable[Portion]) -> dict[str, tuple[Cut, ...]]:
    cuts: dict[str, tuple[Cut, ...]] = {}
    for portion in portions:
        for name, amount in portion.made.goods.items():
            if isinstance(amount, Length):
                cuts[name] = (*cuts.get(name, ()), Cut(amount, portion.id, portion.copies))
    return cuts


def _in_all(cuts: tuple[Cut, ...]) -> Length:
    unit = cuts[0].length.unit
    metres = sum((cut.length.metres * cut.copies for cut in cuts), Fraction(0))
    return Length(metres / METRES[unit], unit)
