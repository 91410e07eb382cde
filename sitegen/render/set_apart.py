"""What each piece of a varied set has in it, as the couple read it."""

from collections.abc import Iterator, Mapping
from itertools import groupby

from sitegen.model.catalogue import Stem
from sitegen.model.content import Shared
from sitegen.model.piece import Piece
from sitegen.order.sets import VariedSet
from sitegen.price.priced import PricedPiece
from sitegen.render.couple_piece import OneOfSet, SetApart
from sitegen.render.voice import Voice
from sitegen.values.bag import Bag


def set_apart(
    piece: PricedPiece, dealt: VariedSet | None, shared: Shared, voice: Voice, *, agreed: bool
) -> SetApart | None:
    """List each one's stems, as far as the studio shows them; None where all are alike.

    The deal is that of what is suggested, or with *agreed* of what was agreed on, and says so.
    """
    _, show = voice.words, shared.studio.show_stems
    if dealt is None or dealt.deal.versions == 1 or show == "no":
        return None
    n = len(dealt.copies)
    if agreed:
        summary, note = _("What is in each"), ""
    else:
        summary = _("What is in each, as we suggest")
        note = _("Shared out for {n}, as we suggest. For what you choose we share the stems out anew.", n=n)
    ones = tuple(_ones(piece, dealt, shared.stems, voice, counted=show == "counts"))
    return SetApart(summary, note, ones)


def _ones(
    piece: PricedPiece, dealt: VariedSet, stems: Mapping[str, Stem], voice: Voice, *, counted: bool
) -> Iterator[OneOfSet]:
    """What all have is said once; copies of one recipe stand side by side, and are named together."""
    if dealt.kept:
        yield OneOfSet(voice.words("In all of them"), _stems(dealt.kept, stems, voice, counted=counted))
    for names, copy in each_named(piece.file.piece, dealt, voice):
        yield OneOfSet(names, _stems(dealt.copies[copy], stems, voice, counted=counted))


def each_named(piece: Piece, dealt: VariedSet, voice: Voice) -> Iterator[tuple[str, int]]:
    """Say whose each recipe of a set is, and give the index of a copy that has it."""
    copies = range(len(dealt.copies))
    for _key, alike in groupby(copies, key=lambda i: tuple(dealt.copies[i].items())):
        numbers = tuple(alike)
        yield voice.listed(tuple(_name(piece, i, len(copies), voice) for i in numbers)), numbers[0]


def _stems(bag: Bag, stems: Mapping[str, Stem], voice: Voice, *, counted: bool) -> tuple[str, ...]:
    names = ((stems[id_].name, n) for id_, n in bag.items())
    return tuple(f"{voice.amount(n)}\N{NO-BREAK SPACE}{name}" if counted else name for name, n in names)


def _name(piece: Piece, i: int, copies: int, voice: Voice) -> str:
    """Name who carries it; the unpaid ones come last, and the others have their number."""
    if i < len(piece.wearers):
        return piece.wearers[i].name
    return voice.words("Spare") if i >= copies - piece.extra else str(i + 1)
