"""What build cards show beside the order: each piece's picture, and what was chosen where not as shown."""

from collections.abc import Iterator, Mapping

from sitegen.choices.picks import Picks
from sitegen.pictures.plan import Picture
from sitegen.price.priced import PricedEvent, PricedPiece
from sitegen.render.order_card import CardPicture
from sitegen.render.order_cards import Seen
from sitegen.render.sketched import Sketched, picture_of
from sitegen.render.words import Words, florist_language, words_for


def seen_on_cards(
    priced: PricedEvent,
    picks: Picks,
    pictures: Mapping[str, Picture],
    sketches: Mapping[str, Sketched],
    folder: str,
) -> dict[str, Seen]:
    """Give each piece's, by its id. *pictures* are by file name, *folder* is their address from the sheet."""
    _ = words_for(florist_language(priced.shared.studio.language))
    return {
        piece.id: Seen(
            _picture(piece, pictures, sketches, folder, _), " · ".join(_chosen(piece, pick.answers))
        )
        for piece, pick in zip(priced.pieces, picks.pieces, strict=True)
    }


def _picture(
    piece: PricedPiece,
    pictures: Mapping[str, Picture],
    sketches: Mapping[str, Sketched],
    folder: str,
    _: Words,
) -> CardPicture | None:
    shown = picture_of(piece, pictures, sketches)
    if shown is None:
        return None
    captions = {
        "ours": _("As shown to the couple"),
        "sketch": _("A sketch of the recipe, not the finished piece"),
        "inspiration": _("A direction, not the piece itself"),
    }
    # The JPEG goes into a PDF as it is; a browser unpacks WebP there, to many times its size.
    return CardPicture(f"{folder}/{shown.fallback.name}", shown.alt, captions[shown.kind])


def _chosen(piece: PricedPiece, answers: tuple[int, ...]) -> Iterator[str]:
    """Name the answers that are not the suggested ones: the picture shows those."""
    for choice, answer in zip(piece.file.piece.choices, answers, strict=True):
        if answer != choice.usual:
            yield choice.answers[answer].label
