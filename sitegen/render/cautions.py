"""Cautions where they matter to a couple: pointers to those who decide, never advice of ours."""

from collections.abc import Iterable, Iterator, Mapping

from sitegen.model.catalogue import Stem
from sitegen.model.content import Shared
from sitegen.model.piece import Piece
from sitegen.price.priced import Made, PricedPiece
from sitegen.render.voice import Voice
from sitegen.render.words import Words


def _minded(_: Words) -> Mapping[str, str]:
    """What is said of stems that carry a caution the couple asked about."""
    return {
        "cats": _("Listed as harmful to cats: {stems}. Please ask your vet or a poison line."),
        "dogs": _("Listed as harmful to dogs: {stems}. Please ask your vet or a poison line."),
        "people": _("Listed as harmful if eaten: {stems}. Please ask a doctor or a poison line."),
        "sap": _("Sap that can irritate: {stems}. Please ask a doctor or pharmacist if you are sensitive."),
        "pollen": _("Pollen: {stems}. Please tell us of allergies, and ask your doctor about them."),
        "scent": _("Strong scent: {stems}. Please tell us if that troubles anyone."),
        "thorns": _("Thorns: {stems}."),
    }


def _told(_: Words) -> Mapping[str, str]:
    """What is said of a piece wherever it carries the caution."""
    return {
        "food": _(
            "Near food: what may touch it is for your baker, your caterer and the local food code to say."
        ),
        "flame": _("Near flame: whether and how is for the venue's rules and the local fire code to say."),
        "ladder": _("Up high: how it goes up and comes down is for the venue and local rules to say."),
        "wind": _("In wind, whether it may stand is for the venue to say."),
        "magnet": _("Held by a magnet: with a pacemaker or another implant, please ask a doctor first."),
        "sharps": _("Holds pins or wire: please keep it from small children."),
    }


def cautions(piece: PricedPiece, shared: Shared, mind: tuple[str, ...], voice: Voice) -> tuple[str, ...]:
    """Give the cautions of a piece, counting what any of its answers may bring."""
    told = _told(voice.words)
    kinds = dict.fromkeys((*piece.file.piece.cautions, *_of_goods(piece, shared)))
    about_piece = tuple(told[kind] for kind in kinds if kind in told)
    return (*_about_stems(piece, shared.stems, mind, voice), *about_piece)


def _about_stems(
    piece: PricedPiece, stems: Mapping[str, Stem], mind: Iterable[str], voice: Voice
) -> Iterator[str]:
    _ = voice.words
    minded = _minded(_)
    used = dict.fromkeys(id_ for combination in piece.combinations for id_ in combination.made.recipe)
    for kind in dict.fromkeys(mind):
        names = tuple(stems[id_].name for id_ in used if kind in stems[id_].cautions)
        if names:
            said = minded.get(kind, _("{kind}: {stems}."))
            yield said.format(kind=kind, stems="; ".join(names))


def _of_goods(piece: PricedPiece, shared: Shared) -> Iterator[str]:
    used = dict.fromkeys(id_ for combination in piece.combinations for id_ in combination.made.goods)
    for id_ in used:
        yield from shared.goods[id_].cautions


def cautions_in_hand(made: Made, piece: Piece, shared: Shared, voice: Voice) -> tuple[str, ...]:
    """Give all cautions of what the couple make themselves: what they hold in their hands is told whole."""
    _ = voice.words
    minded, told = _minded(_), _told(_)
    stems = [shared.stems[id_] for id_ in made.recipe]
    kinds = dict.fromkeys(kind for stem in stems for kind in stem.cautions)
    about_stems = (
        minded.get(kind, _("{kind}: {stems}.")).format(
            kind=kind, stems="; ".join(stem.name for stem in stems if kind in stem.cautions)
        )
        for kind in kinds
    )
    others = dict.fromkeys(
        (*piece.cautions, *(kind for id_ in made.goods for kind in shared.goods[id_].cautions))
    )
    general = _(
        "Cutters are sharp, and flowers, leaves and their water are no food: please keep them from small "
        "children and pets. If anyone has eaten some, a poison line, a doctor or a vet tells you what to do."
    )
    return (*about_stems, *(told[kind] for kind in others if kind in told), general)
