"""The packing list, for who loads: a table a stop, with boxes to tick."""

from collections.abc import Iterable, Iterator
from fractions import Fraction

from sitegen.order.packing import Load, Packed, packing
from sitegen.order.plan import Plan
from sitegen.order.pull import pulled_stems
from sitegen.render.order_care import Marked, cares
from sitegen.render.order_day_page import PackGroup, PackRow, PackSheet, PackStop
from sitegen.render.order_voice import NB, OrderVoice
from sitegen.values.length import Length

_MOST_SPARES = 8


def pack_sheet(voice: OrderVoice, plan: Plan) -> PackSheet | None:
    """Lay out what goes into the van; None where nothing does."""
    _, loads = voice.words, packing(voice.order, plan.stops)
    if not loads:
        return None
    return PackSheet(
        head=voice.head("pack", _("Packing list"), _("Not approved: counts may still change.")),
        lead=tuple(_lead(voice, loads)),
        cares=cares(_sharp(voice, loads), _),
        stops=tuple(_stop(voice, load, place) for place, load in enumerate(loads, 1)),
    )


def _name(voice: OrderVoice, load: Load) -> str:
    return load.stop.place.name if load.stop.place else voice.words("No place is named")


def _lead(voice: OrderVoice, loads: tuple[Load, ...]) -> Iterator[str]:
    _ = voice.words
    if len(loads) > 1:
        names = ", ".join(_name(voice, load) for load in reversed(loads))
        yield _("Load in this order: {places}. What comes off first goes in last.", places=names)
    yield _("Three ticks: in the van, off at the stop, back home.")


def _sharp(voice: OrderVoice, loads: Iterable[Load]) -> Marked:
    """Only what can cut or prick is told here; the rest stands where it is worked with."""
    pieces = {packed.box.piece for load in loads for packed in load.boxes}
    goods = {good for load in loads for good in load.goods}
    marked = [(voice.pieces[id_].piece, voice.pieces[id_].cautions) for id_ in voice.pieces if id_ in pieces]
    marked += [
        (voice.shared.goods[id_].name, voice.shared.goods[id_].cautions)
        for id_ in voice.order.need.goods
        if id_ in goods
    ]
    return [(name, ("sharps",)) for name, cautions in marked if "sharps" in cautions]


def _stop(voice: OrderVoice, load: Load, place: int) -> PackStop:
    at = load.stop.arrives
    hour = f", {voice.time(at.time())}" if at else ""
    day = f", {voice.weekday(load.stop.day)}" if load.stop.day != voice.order.priced.folder.event.date else ""
    groups = [*_groups(voice, load), *(_with_us(voice) if place == 1 else ())]
    return PackStop(
        f"{place} · {_name(voice, load)}{day}{hour}", tuple(group for group in groups if group.rows)
    )


def _groups(voice: OrderVoice, load: Load) -> Iterator[PackGroup]:
    _ = voice.words
    boxes = [_box(voice, packed) for packed in load.boxes]
    boxes += [
        PackRow(str(item.copies), voice.pieces[item.piece].piece, _("no box is written"), "stays")
        for item in load.loose
    ]
    yield PackGroup(_("Boxes"), tuple(boxes))
    hire = [PackRow(str(n), voice.shared.goods[good].name, "", "tick") for good, n in load.hire.items()]
    hire += [
        PackRow(_amount(voice, amount), voice.shared.goods[good].name, "", "stays")
        for good, amount in load.goods.items()
    ]
    yield PackGroup(_("Hire and mechanics"), tuple(hire))
    home = [PackRow(str(n), voice.shared.goods[good].name, "", "home") for good, n in load.home.items()]
    yield PackGroup(_("Strike"), tuple(home))


def _box(voice: OrderVoice, packed: Packed) -> PackRow:
    _, box = voice.words, packed.box
    piece = voice.pieces[box.piece]
    copies = next(one.copies for one in voice.order.portions if one.id == box.piece)
    which = ""
    if copies > 1:
        which = f"{NB}{box.first}" if box.first == box.last else f"{NB}{box.first}–{box.last}"
    parts = _(", part {n} of {parts}", n=box.part, parts=box.parts) if box.parts > 1 else ""
    said = _("Box {n}, {piece}", n=box.number, piece=f"{piece.piece}{which}{parts}")
    return PackRow("1", said, piece.handling or "", "tick" if packed.home else "stays")


def _amount(voice: OrderVoice, amount: Fraction | Length) -> str:
    return voice.amount(amount)


def _with_us(voice: OrderVoice) -> Iterator[PackGroup]:
    """What goes on from stop to stop: tools, and first aid for flowers with the stems that are left over."""
    _, studio = voice.words, voice.shared.studio
    tools = tuple(PackRow("", tool, "", "tick") for tool in studio.tools)
    yield PackGroup(_("Tools, on to every stop"), tools)
    aid = [PackRow("", one, "", "tick") for one in studio.first_aid]
    spares = _spares(voice)
    if spares:
        aid.append(PackRow("", _("Stems left over, in water"), spares, "stays"))
    yield PackGroup(_("First aid for flowers, on to every stop"), tuple(aid))


def _spares(voice: OrderVoice) -> str:
    """The stems that are bought above what is pulled, most first."""
    pulled = pulled_stems(voice.order.pulled)
    over = {id_: n - pulled.get(id_, 0) for id_, n in voice.order.bought_stems.items()}
    most = sorted((id_ for id_, n in over.items() if n > 0), key=lambda id_: -over[id_])
    said = [f"{over[id_]} {voice.shared.stems[id_].name}" for id_ in most[:_MOST_SPARES]]
    more = len(most) - len(said)
    if more > 0:
        said.append(voice.words.plural("{n} more kind", "{n} more kinds", more))
    return "; ".join(said)
