"""Labels for boxes: where a box comes off, what is in it, how it is handled."""

from collections.abc import Iterator

from sitegen.order.boxes import Box, boxes_of
from sitegen.order.copies import copies_of
from sitegen.order.pull import pulled_stems
from sitegen.render.label_wearers import carried_by
from sitegen.render.labels import Line
from sitegen.render.order_voice import NB, OrderVoice, parted
from sitegen.render.paper import shorten


def box_labels(voice: OrderVoice) -> Iterator[tuple[Line, ...]]:
    """Give a label for each box, in the order of their numbers."""
    _, studio, event = voice.words, voice.shared.studio, voice.order.priced.folder.event
    boxes = boxes_of(voice.order)
    for box in boxes:
        piece = voice.pieces[box.piece]
        number = _("Box {n} of {boxes}", n=box.number, boxes=len(boxes)).replace(" ", NB)
        yield (
            Line("stop", _stop(voice, box).upper()),
            Line("title", f"{number} · {_box_title(voice, box)}"),
            Line("what", _contents(voice, box)),
            Line("handling", piece.handling or ""),
            Line("small", shorten(f"{event.event} · {voice.day(event.date)}", 60)),
            Line("small", shorten(", ".join(filter(None, (studio.studio, studio.contact.phone))), 60)),
        )


def _stop(voice: OrderVoice, box: Box) -> str:
    """Name the place where a box comes off; what the couple make they take along themselves."""
    _, event = voice.words, voice.order.priced.folder.event
    if voice.by_couple(box.piece):
        return _("For {names} to make", names=event.for_)
    place = voice.place(box.place)
    return place.name if place else _("No place named")


def _box_title(voice: OrderVoice, box: Box) -> str:
    piece = voice.pieces[box.piece].piece
    if box.parts > 1:
        piece = f"{piece}{_numbers(box)}" if len(copies_of(voice.order, box.piece)) > 1 else piece
        return voice.words("{piece}, part {n} of {parts}", piece=piece, n=box.part, parts=box.parts)
    return f"{piece}{_numbers(box)}" if len(copies_of(voice.order, box.piece)) > 1 else piece


def _numbers(box: Box) -> str:
    return f"{NB}{box.first}" if box.copies == 1 else f"{NB}{box.first}–{box.last}"


def _contents(voice: OrderVoice, box: Box) -> str:
    """Name those who carry what is in a box; of what is built elsewhere, count its stems."""
    copies = copies_of(voice.order, box.piece)[box.first - 1 : box.last]
    piece = voice.pieces[box.piece]
    if piece.bench.on_site or voice.by_couple(box.piece):
        return ", ".join(_stems(voice, box)) if box.parts == 1 else ""
    if piece.wearers:
        return ", ".join(carried_by(voice, copy) for copy in copies)
    return ""


def _stems(voice: OrderVoice, box: Box) -> Iterator[str]:
    """All stems of a piece, where one box holds them all."""
    own = [block for block in voice.order.pulled if block.piece == box.piece]
    if box.copies == len(copies_of(voice.order, box.piece)):
        kinds: dict[str, int] = {}
        for stem, count in pulled_stems(own).items():
            kind = parted(voice.shared.stems[stem].name).kind
            kinds[kind] = kinds.get(kind, 0) + count
        yield from (f"{count} {kind}" for kind, count in kinds.items())
