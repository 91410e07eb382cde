"""An event in which what was picked is what we suggest."""

from dataclasses import replace

from sitegen.choices.picks import Pick, Picks
from sitegen.price.priced import PricedEvent, PricedPiece


def suggesting(event: PricedEvent, picks: Picks) -> PricedEvent:
    """Give *event* as if *picks* were the usual ones: no price moves, what was left out is gone."""
    both = zip(event.pieces, picks.pieces, strict=True)
    pieces = tuple(_suggested(piece, pick) for piece, pick in both if not pick.out)
    charges = tuple(
        charge.model_copy(update={"optional": False}) if i in picks.charges else charge
        for i, charge in enumerate(event.terms.charges)
    )
    folder = replace(event.folder, pieces=tuple(piece.file for piece in pieces))
    return replace(event, folder=folder, pieces=pieces, terms=replace(event.terms, charges=charges))


def _suggested(priced: PricedPiece, pick: Pick) -> PricedPiece:
    piece = priced.file.piece
    choices = tuple(
        choice.model_copy(
            update={
                "answers": tuple(
                    answer.model_copy(update={"usual": a == picked})
                    for a, answer in enumerate(choice.answers)
                )
            }
        )
        for choice, picked in zip(piece.choices, pick.answers, strict=True)
    )
    file = replace(
        priced.file,
        piece=piece.model_copy(update={"choices": choices}),
        quantity=replace(priced.file.quantity, usual=pick.quantity),
    )
    return replace(priced, file=file, usual=priced.combinations.index(priced.at(pick.answers)))
