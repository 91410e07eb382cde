"""Labels for wearers: whose a piece is, where on them it sits, when it is handed over."""

from collections.abc import Iterator

from sitegen.model.piece import Piece
from sitegen.order.copies import Copy, copies_of, worn
from sitegen.render.desk_figures import short_day
from sitegen.render.labels import Line
from sitegen.render.order_voice import OrderVoice
from sitegen.render.paper import shorten

_MOST_OF_PLACE = 60  # letters, about a line and a half of a wearer's label


def wearer_labels(voice: OrderVoice) -> Iterator[tuple[Line, ...]]:
    """Give a label for each copy of the pieces that somebody named carries, the spare ones too."""
    for id_ in worn(voice.order):
        piece, copies = voice.pieces[id_], copies_of(voice.order, id_)
        for copy in copies:
            yield (
                Line("stop", carried_by(voice, copy)),
                Line("title", _worn(voice, id_, piece, copy)),
                Line("small", _where(voice, piece)),
                Line("small", voice.words("{n} of {copies}", n=copy.number, copies=len(copies))),
            )


def carried_by(voice: OrderVoice, copy: Copy) -> str:
    """Name who carries a copy; the unpaid ones are spare, and others without a name are numbered."""
    _ = voice.words
    if copy.wearer:
        return copy.wearer.name
    return _("Spare") if copy.spare else _("No. {n}", n=copy.number)


def _worn(voice: OrderVoice, id_: str, piece: Piece, copy: Copy) -> str:
    side = copy.wearer.side if copy.wearer else None
    made = voice.words("made by you") if voice.by_couple(id_) else ""
    return ", ".join(filter(None, (piece.piece, side, made)))


def _where(voice: OrderVoice, piece: Piece) -> str:
    """Say where and when it is handed over; a long name is cut rather than the hour."""
    place, event = voice.place(piece.place), voice.order.priced.folder.event
    day = short_day((place.date if place else None) or event.date, voice.voice.language)
    time = (place.ready or place.access) if place else None
    when = f"{day}, {voice.time(time)}" if time else day
    return " · ".join(filter(None, (shorten(place.name, _MOST_OF_PLACE) if place else "", when)))
