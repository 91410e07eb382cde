"""The whole event, priced: the entry to this package."""

from sitegen.model.content import EventFolder, Shared, terms_of
from sitegen.price.each import price_piece
from sitegen.price.grains import event_grains
from sitegen.price.priced import PricedEvent
from sitegen.price.recipe import stand_ins


def price_event(shared: Shared, folder: EventFolder) -> PricedEvent:
    """Price every combination of every piece of *folder*.

    Asks for checked content: every name is in the catalogue, every stem has
    an offer, every choice has an answer.
    """
    grains, moves = event_grains(shared, folder), stand_ins(folder.event.swaps)
    return PricedEvent(
        shared=shared,
        folder=folder,
        terms=terms_of(shared.studio, folder.event),
        pieces=tuple(price_piece(shared, file, grains, moves) for file in folder.pieces),
    )
