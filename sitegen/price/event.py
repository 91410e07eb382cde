"""The whole event, priced: the entry to this package."""

from collections.abc import Iterable
from fractions import Fraction

from sitegen.model.catalogue import Stem
from sitegen.model.content import EventFolder, Shared, terms_of
from sitegen.price.each import price_piece
from sitegen.price.grains import event_grains
from sitegen.price.priced import PricedEvent, PricedPiece, Worth
from sitegen.price.rates import counted_cost
from sitegen.price.recipe import stand_ins

# What a stem counts for when copies are to be worth the same, by what is looked at first; common practice,
# no source.
_WEIGHT = {"form": 4, "line": 3, "mass": 3, "filler": 2, "foliage": 1}


def price_event(shared: Shared, folder: EventFolder) -> PricedEvent:
    """Price every combination of every piece of *folder*.

    Asks for checked content: every name is in the catalogue, every stem has
    an offer, every choice has an answer.
    """
    grains, moves = event_grains(shared, folder), stand_ins(folder.event.swaps)
    pieces = tuple(price_piece(shared, file, grains, moves) for file in folder.pieces)
    return PricedEvent(
        shared=shared,
        folder=folder,
        terms=terms_of(shared.studio, folder.event),
        pieces=pieces,
        worths=_worths(shared, pieces, folder.event.date.month),
    )


def _worths(shared: Shared, pieces: Iterable[PricedPiece], month: int) -> tuple[Worth, ...]:
    pricing = shared.studio.pricing
    sets = (piece for piece in pieces if piece.file.piece.varied)
    names = dict.fromkeys(name for piece in sets for one in piece.combinations for name in one.made.recipe)
    stems = {name: shared.stems[name] for name in names}
    return tuple(worth_of(name, stem, counted_cost(stem, month, pricing)) for name, stem in stems.items())


def worth_of(name: str, stem: Stem, cost: Fraction) -> Worth:
    """Say what dealing has to know of a stem: the flowers that are looked at first count most."""
    return Worth(name, cost, stem.role == "foliage", _WEIGHT[stem.role])
