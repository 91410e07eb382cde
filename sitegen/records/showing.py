"""From a priced event to what the couple are shown of it.

Reads from the event only what a couple may know, as far as the studio shows it. Money that came in is no part
of a proposal, so a payment asks for no new one.
"""

import datetime as dt
from collections.abc import Iterator, Mapping
from fractions import Fraction

from sitegen.choices.table import table
from sitegen.model.content import Shared
from sitegen.model.event import Event
from sitegen.model.event import Place as EventPlace
from sitegen.model.piece import SecondPlace
from sitegen.model.terms import Contact as StudioContact
from sitegen.price.priced import Combination, PricedEvent, PricedPiece
from sitegen.records.keeping import once, used
from sitegen.records.shown import (
    Answer,
    Choice,
    Contact,
    Due,
    Goods,
    Labels,
    Moves,
    Named,
    Picture,
    Piece,
    Shown,
    Spot,
    Stems,
)
from sitegen.values.length import Length


def shown_of(priced: PricedEvent, digests: Mapping[str, str]) -> Shown:
    """Take what the couple see, pay and choose; *digests* tell photos apart, by file name."""
    shared, event = priced.shared, priced.folder.event
    closes = None
    if event.changes_close is not None:
        closes = event.date - dt.timedelta(days=event.changes_close)
    return Shown(
        language=shared.studio.language,
        currency=shared.currency.code,
        contact=_contact(shared.studio.studio, shared.studio.contact),
        names=event.for_,
        date=event.date,
        spots=tuple(map(_spot, event.places)),
        note=priced.folder.note.text,
        terms=shared.terms.text,
        mind=event.mind,
        valid=event.valid,
        closes=closes,
        least=shared.currency.units(event.least or Fraction(0)),
        show_stems=shared.studio.show_stems,
        stems=tuple(_stems(priced)),
        goods=_goods_named(priced),
        pieces=tuple(_piece(piece, shared, digests) for piece in priced.pieces),
        labels=_labels(priced, event),
        table=table(priced),
    )


def _contact(studio: str, contact: StudioContact) -> Contact:
    return Contact(studio, contact.name, contact.email, contact.phone, contact.web)


def _spot(place: EventPlace) -> Spot:
    return Spot(
        id=place.id,
        name=place.name,
        use=place.use,
        date=place.date,
        access=place.access,
        ready=place.ready,
        starts=place.starts,
        ends=place.ends,
        clear=place.clear,
    )


def _stems(priced: PricedEvent) -> Iterator[Named]:
    """Stems by name where the studio shows them, and wherever a caution is told of one."""
    event, tell = priced.folder.event, priced.shared.studio.show_stems != "no"
    for id_ in used(priced)[0]:
        stem = priced.shared.stems[id_]
        minded = tuple(kind for kind in dict.fromkeys(event.mind) if kind in stem.cautions)
        if tell or minded:
            yield Named(id_, stem.name, stem.colour, minded)


def _goods_named(priced: PricedEvent) -> tuple[Named, ...]:
    goods = priced.shared.goods
    ids = dict.fromkeys(
        id_
        for piece in priced.pieces
        for one in piece.combinations
        for id_, _ in _goods(piece, one, priced.shared)
    )
    return tuple(Named(id_, goods[id_].name) for id_ in ids)


def _piece(priced: PricedPiece, shared: Shared, digests: Mapping[str, str]) -> Piece:
    piece, combinations = priced.file.piece, priced.combinations
    recipes, recipe_of = once(_recipe(one, shared.studio.show_stems) for one in combinations)
    goods, goods_of = once(_goods(priced, one, shared) for one in combinations)
    return Piece(
        id=priced.id,
        title=piece.piece,
        group=piece.group,
        words=priced.file.words.text,
        pictures=tuple(
            Picture(photo.file, photo.kind, photo.alt, photo.credit, digests.get(photo.file, ""))
            for photo in piece.photos
        ),
        choices=tuple(
            Choice(choice.id, choice.ask, tuple(Answer(one.id, one.label) for one in choice.answers))
            for choice in piece.choices
        ),
        recipes=recipes,
        recipe_of=recipe_of,
        goods=goods,
        goods_of=goods_of,
        by_couple=tuple(one.made.by_couple for one in combinations),
        extra=piece.extra,
        place=piece.place,
        moves=_moves(piece.second_place, shared),
        wearers=tuple(wearer.name for wearer in piece.wearers),
        dealt=piece.varied.keep if piece.varied else None,
        cautions=_cautions(priced, shared),
        alike=piece.varied.alike if piece.varied else Fraction(0),
        versions=piece.varied.versions if piece.varied else None,
    )


def _recipe(one: Combination, show: str) -> Stems:
    if show == "no":
        return ()
    return tuple((id_, n if show == "counts" else None) for id_, n in one.made.recipe.items())


def _goods(priced: PricedPiece, one: Combination, shared: Shared) -> Goods:
    """What an answer is said to change: ribbon by length, and hire pieces, where a choice is about them."""
    answers = (answer for choice in priced.file.piece.choices for answer in choice.answers)
    about = dict.fromkeys(id_ for answer in answers for id_ in answer.goods)
    both = ((id_, one.made.goods[id_]) for id_ in about if id_ in one.made.goods)
    return tuple((id_, n) for id_, n in both if isinstance(n, Length) or shared.goods[id_].hire is not None)


def _moves(second: SecondPlace | None, shared: Shared) -> Moves | None:
    if second is None:
        return None
    vessel = shared.goods[second.vessel].name if second.vessel else None
    return Moves(second.place, second.spot, second.from_, vessel)


def _cautions(priced: PricedPiece, shared: Shared) -> tuple[str, ...]:
    """The kinds told of the piece, those of its goods too."""
    goods = dict.fromkeys(id_ for one in priced.combinations for id_ in one.made.goods)
    of_goods = (kind for id_ in goods for kind in shared.goods[id_].cautions)
    return tuple(dict.fromkeys((*priced.file.piece.cautions, *of_goods)))


def _labels(priced: PricedEvent, event: Event) -> Labels:
    terms = priced.terms
    return Labels(
        charges=tuple(charge.label for charge in terms.charges),
        discount=terms.discount.label if terms.discount else None,
        taxes=tuple(rate.label for rate in terms.tax.rates),
        payments=tuple(
            Due(payment.label, payment.due.words, payment.due.on(event.date)) for payment in terms.payments
        ),
    )
