"""The run sheet, for the crew on the day: a block a place, everything by its hour."""

import datetime as dt
from collections.abc import Iterable, Iterator
from math import ceil

from sitegen.order.drives import Drive, drives
from sitegen.order.moves import carried
from sitegen.order.plan import Plan
from sitegen.order.run import Stop
from sitegen.order.run_steps import Item, Step
from sitegen.order.trips import crew_of, trips
from sitegen.render.order_care import cares
from sitegen.render.order_day_page import RunBlock, RunRow, RunSheet
from sitegen.render.order_lanes import lanes
from sitegen.render.order_voice import OrderVoice

_MOST_NAMED = 4  # kinds of hire pieces in one line
_AT_THE_BENCH = ("sharps", "thorns", "sap")  # said where stems and goods are worked


def run_sheet(voice: OrderVoice, plan: Plan) -> RunSheet | None:
    """Lay out the day by its places; None where nothing is made."""
    _, stops = voice.words, plan.stops
    if not stops:
        return None
    event, by_road = voice.order.priced.folder.event, drives(voice.order, stops)
    return RunSheet(
        head=voice.head("run", _("Run sheet"), _("Not approved: times may still move.")),
        title=_("Run sheet, {day}", day=voice.weekday(event.date)),
        lead=tuple(_lead(voice, plan)),
        lanes=lanes(voice, [stop for stop in stops if stop.place]),
        blocks=tuple(_block(voice, stop, stops, by_road.get(stop.id)) for stop in stops),
    )


def _lead(voice: OrderVoice, plan: Plan) -> Iterator[str]:
    _, event = voice.words, voice.order.priced.folder.event
    for one in plan.out:
        place = one.first.place.name if one.first.place else ""
        said = (
            _("bench {time}", time=voice.time(one.bench.time())) if one.bench else "",
            _("load {time}", time=voice.time(one.load.time())),
            _("leave {time}", time=voice.time(one.leave.time())),
            _("{time} at {place}", time=voice.time(one.arrives.time()), place=place),
        )
        day = f"{voice.weekday(one.first.day)}: " if one.first.day != _day(voice) else ""
        text = " · ".join(part for part in said if part)
        yield f"{day}{text[:1].upper()}{text[1:]}."
    if untold := [place for trip in trips(voice.order) for place in trip.untold]:
        names = tuple(dict.fromkeys(place.name if place else event.event for place in untold))
        yield _("Drive time not given, so left out here: to {places}.", places=voice.voice.listed(names))
    hands = crew_of(voice.order).hands
    yield _.plural("{n} hand: write who does what.", "{n} hands: write who does what.", hands)


def _day(voice: OrderVoice) -> dt.date:
    return voice.order.priced.folder.event.date


def _block(voice: OrderVoice, stop: Stop, stops: tuple[Stop, ...], drive: Drive | None) -> RunBlock:
    _, place = voice.words, stop.place
    if place is None:
        rows = tuple(_row(voice, stop, step) for step in stop.steps)
        return RunBlock(_("No place is named"), "", "", "", (), rows)
    use = place.use or ""
    if stop.hours.starts:
        use = f"{use} {voice.time(stop.hours.starts.time())}".strip()
    day = voice.weekday(stop.day) if stop.day != _day(voice) else ""
    meta = (
        place.address or "",
        _("in from {time}", time=voice.time(place.access)) if place.access else "",
        _("ready by {time}", time=voice.time(place.ready)) if place.ready else "",
        place.contact or "",
    )
    here = {item.piece for step in stop.steps for item in step.items if item.piece}
    pieces = [(voice.pieces[id_].piece, voice.pieces[id_].cautions) for id_ in voice.pieces if id_ in here]
    return RunBlock(
        title=" · ".join(part for part in (place.name, use, day) if part),
        meta=" · ".join(part for part in meta if part),
        rules=place.rules or "",
        change=_change(voice, stop, stops),
        cares=cares(pieces, _, without=_AT_THE_BENCH),
        rows=(*_driven(voice, drive), *(_row(voice, stop, step) for step in stop.steps)),
    )


def _driven(voice: OrderVoice, drive: Drive | None) -> Iterator[RunRow]:
    """Say when to set out for here."""
    if drive is not None:
        origin = drive.origin.name if drive.origin else voice.words("the studio")
        yield RunRow(
            start=voice.time(drive.leave.time()) if drive.leave else "",
            what=voice.words("Drive"),
            more=voice.words(" from {place}", place=origin),
            minutes=str(ceil(drive.minutes)),
            hands="",
            strong=False,
        )


def _change(voice: OrderVoice, stop: Stop, stops: tuple[Stop, ...]) -> str:
    """Say how long the room change has: from the end of the first use to the start of the second."""
    starts, event = stop.hours.starts, voice.order.priced.folder.event
    ends: dict[str, dt.datetime] = {}
    for step in stop.steps:
        if step.kind == "arrive" and step.other is not None:
            over = next((one.hours.ends for one in stops if one.id == step.other.id), None)
            if over and starts and over < starts:
                ends[step.other.name] = over
    if starts is None or not ends:
        return ""
    minute = dt.timedelta(minutes=1)
    said = [
        voice.words(
            "{minutes} minutes after {place} ends at {time}",
            minutes=(starts - over) // minute,
            place=name,
            time=voice.time(over.time()),
        )
        for name, over in ends.items()
    ]
    return voice.words(
        "Room change: {use} begins {list}.",
        use=(stop.place.use if stop.place else None) or event.event,
        list=", ".join(said),
    )


def _row(voice: OrderVoice, stop: Stop, step: Step) -> RunRow:
    what, more = _said(voice, stop, step)
    night = f" ({voice.weekday(step.at.date())})" if step.at and step.at.date() != stop.day else ""
    strong = step.kind in {"ready", "use", "clear"}
    return RunRow(
        start=voice.time(step.at.time()) if step.at else "",
        what=f"{what}{night}" if strong else what,
        more=more if strong else f"{more}{night}",
        minutes=str(ceil(step.minutes)) if step.minutes else "",
        hands=str(step.hands) if step.hands else "",
        strong=strong,
    )


def _said(voice: OrderVoice, stop: Stop, step: Step) -> tuple[str, str]:
    """What a step is, in bold, and more about it."""
    _ = voice.words
    if step.kind == "ready":
        return _("READY"), ""
    if step.kind == "clear":
        return _("CLEAR"), ""
    if step.kind == "use":
        use = (stop.place.use if stop.place else None) or _("Guests")
        ends = stop.hours.ends
        return (_("{use} to {time}", use=use, time=voice.time(ends.time())) if ends else use), ""
    if step.kind == "strike":
        return _("Strike"), _struck(voice, step)
    if step.kind in {"bring", "theirs"}:
        who = _("Hand over") if step.kind == "bring" else _("The couple bring")
        return who, ": " + "; ".join(_named(voice, item) for item in step.items)
    return _of_piece(voice, stop, step)


def _struck(voice: OrderVoice, step: Step) -> str:
    """What comes home from here; a long list stands on the hire sheet alone."""
    _, hire = voice.words, step.items[0].hire
    if not hire:
        return ""
    if len(hire) > _MOST_NAMED:
        return _(": {n} hire pieces of {kinds} kinds, counted by the hire sheet",
                 n=sum(hire.values()), kinds=len(hire))  # fmt: skip
    return _(": {goods}, counted by the hire sheet", goods=_hire(voice, hire.items()))


def _of_piece(voice: OrderVoice, stop: Stop, step: Step) -> tuple[str, str]:
    """A piece that is set up, leaves, or arrives, with what goes with it."""
    _, item = voice.words, step.items[0]
    piece, name = voice.pieces[item.piece], _named(voice, item, spare=step.kind == "set")
    then, goods = piece.second_place, _hire(voice, item.hire.items())
    if step.kind == "set":
        said = [_("built here") if piece.bench.on_site else "", goods]
        return name, "".join(f" · {part}" for part in said if part)
    spot = then.spot if then and then.spot else ""
    said = [spot, _("into {goods}, water in first", goods=goods) if goods else ""]
    more = "".join(f" · {part}" for part in said if part)
    if step.kind == "leave" and step.other == stop.place and carried(piece):
        return _.plural(
            "{piece}, from whoever carries it", "{piece}, from those who carry them", item.copies, piece=name
        ), more
    if step.kind == "leave":
        return f"{name} → {step.other.name}" if step.other else name, more
    return _("{piece}, from {place}", piece=name, place=step.other.name) if step.other else name, more


def _named(voice: OrderVoice, item: Item, *, spare: bool = True) -> str:
    """Name a piece with its count, and how many of these are spare."""
    piece = voice.pieces[item.piece]
    if item.copies == 1:
        return piece.piece
    extra = voice.words(" ({n} spare)", n=piece.extra) if piece.extra and spare else ""
    return f"{piece.piece}, {item.copies}{extra}"


def _hire(voice: OrderVoice, goods: Iterable[tuple[str, int]]) -> str:
    return "; ".join(f"{n} {voice.shared.goods[good].name}" for good, n in goods)
