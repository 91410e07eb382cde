"""Hard goods for the bench, and the hire pieces that go out and come back."""

from collections.abc import Iterator, Mapping

from sitegen.model.event import Event, Place
from sitegen.order.market import Thing
from sitegen.order.shelf import Beside
from sitegen.render.order_buying import by_delivery, holds
from sitegen.render.order_care import cares, of_goods, of_pieces
from sitegen.render.order_page import GoodRow, GoodsSheet, Hire, HireRow
from sitegen.render.order_rolls import rolls
from sitegen.render.order_shelf import shelf_line, shelf_mark
from sitegen.render.order_voice import NB, OrderVoice

_ON_SITE = ("ladder", "wind")


def goods(voice: OrderVoice) -> GoodsSheet | None:
    """Lay out what the bench needs besides stems: what to buy, for which pieces, and every cut."""
    _, need = voice.words, voice.order.need
    if not need.goods:
        return None
    laid = [rolls(voice, good, i) for i, good in enumerate(need.lengths, 1)]
    return GoodsSheet(
        head=voice.head("goods", _("Hard goods and ribbon"), _("Not approved: do not cut.")),
        lead=tuple(_lead(voice)),
        cares=cares([*of_goods(voice), *of_pieces(voice)], _, without=_ON_SITE),
        rows=tuple(_row(voice, Thing("good", good)) for good in need.goods),
        rolls=tuple(view for views, _remarks in laid for view in views),
        remarks=tuple(remark for _views, remarks in laid for remark in remarks),
    )


def _lead(voice: OrderVoice) -> Iterator[str]:
    _ = voice.words
    for rows in by_delivery(voice):
        arrival = rows[0].arrival
        if any(row.thing.kind == "good" for row in rows):
            name = voice.shared.suppliers[rows[0].supplier].name
            if arrival is None:
                yield _("From {supplier}, day to agree.", supplier=name)
            else:
                due, day = voice.day(arrival.order_by), voice.day(arrival.day)
                yield _("From {supplier}, order by {due}, here {day}.", supplier=name, due=due, day=day)


def _row(voice: OrderVoice, thing: Thing) -> GoodRow:
    _, need = voice.words, voice.order.need
    needed = need.lengths.get(thing.id) or need.pieces[thing.id]
    packs: dict[str, int] = {}
    for row in voice.order.rows:
        if row.thing == thing:
            size = holds(voice, row)[0]
            packs[size] = packs.get(size, 0) + row.packs
    parts = [f"{n} × {size}".replace(" ", NB) for size, n in packs.items()]
    if thing in voice.order.in_hand:
        parts.append(_("{amount} in hand", amount=voice.held_of(thing)))
    return GoodRow(voice.name(thing), voice.amount(needed), " + ".join(parts) or "–", voice.used_in(thing))


def hire(voice: OrderVoice, beside: Mapping[str, Beside] | None) -> Hire | None:
    """Lay out the hire pieces: how many go out, where to, and when they are due back.

    *beside* is what other events have out at the same time, None where that is filled in later.
    """
    _, need, event = voice.words, voice.order.need, voice.order.priced.folder.event
    if not need.hire:
        return None
    back = event.hire_back
    out = sum(need.hire.values())
    return Hire(
        head=voice.head("hire", _("Hire, out and back"), _("Not approved: nothing is reserved.")),
        lead=_("Count when it leaves the shelf and when it comes home. Broken or missing is charged at the "
               "replacement price."),
        symbol=voice.symbol,
        cares=cares([*of_pieces(voice)], _, without=("food", "sharps", "magnet")),
        rows=tuple(_hired(voice, good, n, beside) for good, n in need.hire.items()),
        out=_.plural("{n} piece out.", "{n} pieces out.", out),
        back=_("All back by {day}, {time}.", day=voice.day(back.date()), time=voice.time(back.time()))
        if back
        else "",
    )  # fmt: skip


def _hired(voice: OrderVoice, id_: str, out: int, beside: Mapping[str, Beside] | None) -> HireRow:
    good, thing = voice.shared.goods[id_], Thing("good", id_)
    places = _places(voice, id_)
    return HireRow(
        out=str(out),
        name=good.name,
        under=voice.used_in(thing),
        shelf=_shelf(voice, id_, out, beside),
        where=voice.words(", then ").join(place.name for place in places),
        back=_struck(voice, places),
        replace=voice.money(good.replace) if good.replace is not None else "",
    )


def _shelf(voice: OrderVoice, id_: str, out: int, beside: Mapping[str, Beside] | None) -> str:
    """What is left on the shelf, or the mark for it where other events are not worked out yet."""
    owned = voice.shared.goods[id_].owned
    if owned is None:
        return ""
    if beside is None:
        return shelf_mark(id_)
    return shelf_line(owned, out, beside.get(id_, Beside()), voice.words)


def _places(voice: OrderVoice, good: str) -> list[Place]:
    """Where it goes, in order: with the piece, and on with it to its second place."""
    event: Event = voice.order.priced.folder.event
    places = {place.id: place for place in event.places}
    ids: dict[str, None] = {}
    for portion in voice.order.portions:
        if portion.copies and good in portion.made.goods:
            ids.update(dict.fromkeys(_stops(voice, portion.id, good)))
    return [places[id_] for id_ in ids if id_ in places]


def _stops(voice: OrderVoice, piece_id: str, good: str) -> list[str]:
    piece = voice.pieces[piece_id]
    second = piece.second_place
    if second is None:
        return [piece.place] if piece.place else []
    waits_there = second.vessel == good and good not in piece.goods
    first = [] if waits_there or piece.place is None else [piece.place]
    return [*first, second.place]


def _struck(voice: OrderVoice, places: list[Place]) -> str:
    if not places:
        return ""
    ends, clear = places[-1].ends, places[-1].clear
    if ends:
        return voice.words("strike {time}", time=voice.time(ends))
    return voice.words("clear by {time}", time=voice.time(clear)) if clear else ""
