"""What matters of an event's pieces, as its files say."""

from sitegen.fit.ways import Matter
from sitegen.price.priced import PricedEvent, PricedPiece

USUAL = 3
"""How much something matters of which nothing is said, from 1 to 5."""


def matters_of(priced: PricedEvent) -> tuple[Matter, ...]:
    """Give how much of each piece matters: the piece itself, and the answer as we suggest to each choice."""
    return tuple(_matter(piece) for piece in priced.pieces)


def _matter(priced: PricedPiece) -> Matter:
    choices = priced.file.piece.choices
    usual = zip(choices, priced.as_suggested.answers, strict=True)
    answers = tuple(choice.answers[answer].matters or USUAL for choice, answer in usual)
    return Matter(priced.file.piece.matters or USUAL, answers)
