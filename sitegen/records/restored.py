"""A priced event as it was when a revision was sent, put together from its snapshot.

What the couple see, pay and choose is the snapshot's; what is only the day's work (places and hours, how a
piece is built, from whom stems come) is the content's as it is now.
"""

from collections.abc import Iterable, Mapping
from dataclasses import replace
from typing import TypeVar

from sitegen.model.catalogue import Good, Stem
from sitegen.model.content import Shared, Words
from sitegen.price.priced import PricedEvent
from sitegen.records.restored_piece import restored_piece
from sitegen.records.restored_terms import restored_terms
from sitegen.records.shown import Named
from sitegen.records.snapshot import Snapshot
from sitegen.values.money import Currency

_GREY = "#8a8a84"  # of a stem that is no longer in the catalogue, where its colour was not shown
Thing = TypeVar("Thing", Stem, Good)


def restored(snapshot: Snapshot, now: PricedEvent) -> PricedEvent:
    """Give the event as *snapshot* has it, within the content *now*."""
    shown = snapshot.shown
    money = Currency(shown.currency, shown.table.digits)
    files = {piece.id: piece.file for piece in now.pieces}
    shared = _shared(snapshot, now.shared, money)
    pieces = tuple(
        restored_piece(snapshot, at, files.get(piece.id), now.folder, money)
        for at, piece in enumerate(shown.pieces)
    )
    return PricedEvent(
        shared=shared,
        folder=replace(now.folder, pieces=tuple(piece.file for piece in pieces)),
        terms=restored_terms(shown, now.terms, money),
        pieces=pieces,
        worths=snapshot.kept.worths,
    )


def gone(snapshot: Snapshot, now: Shared) -> tuple[str, ...]:
    """Name the stems and goods of a snapshot that the catalogue no longer has."""
    stems = (one.name for one in snapshot.kept.stems if one.id not in now.stems)
    goods = (one.name for one in snapshot.kept.goods if one.id not in now.goods)
    return (*stems, *goods)


def _shared(snapshot: Snapshot, now: Shared, money: Currency) -> Shared:
    shown = snapshot.shown
    looks = {stem.id: stem for stem in shown.stems}
    return replace(
        now,
        studio=now.studio.model_copy(update={"show_stems": shown.show_stems, "language": shown.language}),
        currency=money,
        terms=Words(shown.terms, now.terms.place),
        stems=_named(snapshot.kept.stems, now.stems, _no_stem, looks),
        goods=_named(snapshot.kept.goods, now.goods, _no_good, {}),
    )


def _named(
    named: Iterable[Named],
    now: Mapping[str, Thing],
    nothing: Thing,
    looks: Mapping[str, Named],
) -> dict[str, Thing]:
    """The catalogue with the names and colours that were told; cautions as they are known now."""
    changed = {}
    for one in named:
        look = looks.get(one.id)
        told: dict[str, object] = {"name": one.name}
        if look is not None and look.colour:
            told["colour"] = look.colour
        if look is not None and one.id not in now:
            told["cautions"] = look.cautions
        changed[one.id] = now.get(one.id, nothing).model_copy(update=told)
    return {**now, **changed}


# Nobody sells what left the catalogue, and the order says so.
_no_stem = Stem.model_construct(name="", role="filler", colour=_GREY, offers=())
_no_good = Good.model_construct(name="")
