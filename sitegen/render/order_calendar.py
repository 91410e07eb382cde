"""The calendar file of an event: order dates, arrivals, bench days, the way out, set-up, moves, strike."""

import datetime as dt
from collections.abc import Iterator, Sequence

from sitegen.model.catalogue import Supplier
from sitegen.order.deliveries import Delivery, deliveries
from sitegen.order.order import Order
from sitegen.order.plan import Plan
from sitegen.order.run import Stop
from sitegen.order.run_steps import Step
from sitegen.order.setting_out import SetOut
from sitegen.render.ical import Entry, calendar
from sitegen.render.order_voice import OrderVoice, order_voice

NAME = "calendar.ics"


def event_calendar(order: Order, plan: Plan, today: dt.date, *, approved: bool) -> str:
    """Write the calendar of *order*. An entry keeps its UID while its day or hour moves."""
    voice = order_voice(order, today)
    entries = [
        *_orders(voice),
        *_arrivals(voice),
        *_bench(voice, plan),
        *(_way(voice, out) for out in plan.out),
        *(entry for stop in plan.stops for entry in _at(voice, stop)),
        *_after(voice),
    ]
    return calendar(order.priced.folder.event.event, entries, today, settled=approved)


def _uid(voice: OrderVoice, *parts: object) -> str:
    return ".".join((voice.order.priced.folder.id, *map(str, parts))) + "@sitegen"


def _ways(supplier: Supplier) -> str:
    return " · ".join(way for way in (supplier.phone, supplier.email) if way)


def _orders(voice: OrderVoice) -> Iterator[Entry]:
    """One entry for each supplier and last day to order, numbered, as the day itself may move."""
    _, counts = voice.words, dict[str, int]()
    days: dict[tuple[str, dt.date], list[Delivery]] = {}
    for one in deliveries(voice.order):
        if one.to_order and one.arrival is not None:
            days.setdefault((one.supplier, one.arrival.order_by), []).append(one)
    for (id_, day), of_day in sorted(days.items(), key=lambda item: item[0][1]):
        counts[id_] = counts.get(id_, 0) + 1
        supplier = voice.shared.suppliers[id_]
        comes = ", ".join(voice.weekday(one.arrival.day) for one in of_day if one.arrival)
        said = [_("Last day. Comes {days}.", days=comes), _ways(supplier)]
        closed = [one.arrival.closed for one in of_day if one.arrival and one.arrival.closed]
        if closed:
            said.insert(0, _("Closed on {day}, so a day earlier.", day=voice.weekday(closed[0])))
        yield Entry(
            _uid(voice, "order", id_, counts[id_]),
            day,
            _("Order from {supplier}", supplier=supplier.name),
            description="\n".join(part for part in said if part),
            category=_("Order"),
        )


def _arrivals(voice: OrderVoice) -> Iterator[Entry]:
    _, counts = voice.words, dict[str, int]()
    for one in deliveries(voice.order):
        if one.arrival is None:
            continue
        counts[one.supplier] = counts.get(one.supplier, 0) + 1
        supplier = voice.shared.suppliers[one.supplier]
        packs = len(one.rows) - len(one.stems)
        said = (
            _.plural("{n} bunch", "{n} bunches", one.bunches) if one.bunches else "",
            _.plural("{n} hard good", "{n} hard goods", packs) if packs else "",
            supplier.hours or "",
            _ways(supplier),
        )
        yield Entry(
            _uid(voice, "arrival", one.supplier, counts[one.supplier]),
            one.arrival.day,
            voice.comes(supplier),
            location="" if supplier.brings else supplier.where or "",
            description="\n".join(part for part in said if part),
            category=_("Arrival"),
        )


def _bench(voice: OrderVoice, plan: Plan) -> Iterator[Entry]:
    _, event = voice.words, voice.order.priced.folder.event
    for day in plan.days.days:
        built = [task for task in day.tasks if task.what == "build"]
        if built:
            pieces = "\n".join(f"{voice.pieces[task.about].piece}, {task.count}" for task in built)
            yield Entry(
                _uid(voice, "bench", (event.date - day.day).days),
                day.day,
                _("Bench: {event}", event=event.event),
                description=pieces,
                category=_("Bench"),
            )


def _way(voice: OrderVoice, out: SetOut) -> Entry:
    _, place = voice.words, out.first.place
    return Entry(
        _uid(voice, "delivery", out.first.day.isoformat() if _other_day(voice, out.first.day) else "day"),
        out.load,
        _("Load and drive to {place}", place=place.name if place else ""),
        until=out.arrives,
        location=(place.address if place else "") or "",
        description=_("Leave at {time}.", time=voice.time(out.leave.time())),
        category=_("Delivery"),
    )


def _other_day(voice: OrderVoice, day: dt.date) -> bool:
    return day != voice.order.priced.folder.event.date


def _at(voice: OrderVoice, stop: Stop) -> Iterator[Entry]:
    """What is done at one place: set-up or handing over, what moves on from it, the strike."""
    _, place = voice.words, stop.place
    name, where = (place.name, place.address or "") if place else ("", "")
    work = [step for step in stop.steps if step.kind in {"set", "bring"}]
    if work and place is not None:
        told = "Set up: {place}" if any(step.kind == "set" for step in work) else "Hand over: {place}"
        yield Entry(
            _uid(voice, "set-up", stop.id),
            stop.arrives or stop.day,
            _(told, place=name),
            until=stop.done,
            location=where,
            description=_said(voice, stop, work),
            category=_("Set-up"),
        )
    for step in stop.steps:
        if step.kind == "leave" and step.other:
            piece = voice.pieces[step.items[0].piece].piece
            yield Entry(
                _uid(voice, "move", step.items[0].piece),
                step.at or stop.day,
                _("Move: {piece} to {place}", piece=piece, place=step.other.name),
                until=step.until,
                location=where,
                category=_("Move"),
            )
        elif step.kind == "strike" and place is not None:
            yield Entry(
                _uid(voice, "strike", stop.id),
                step.at or stop.day,
                _("Strike: {place}", place=name),
                until=step.until,
                location=where,
                description=_("Clear by {time}.", time=voice.time(stop.hours.clear.time()))
                if stop.hours.clear
                else "",
                category=_("Strike"),
            )


def _said(voice: OrderVoice, stop: Stop, work: Sequence[Step]) -> str:
    _, place = voice.words, stop.place
    lines = [f"{voice.pieces[item.piece].piece}, {item.copies}" for step in work for item in step.items]
    if stop.hours.ready:
        lines.append(_("Ready by {time}.", time=voice.time(stop.hours.ready.time())))
    if place is not None:
        lines += [text for text in (place.contact, place.rules) if text]
    return "\n".join(lines)


def _after(voice: OrderVoice) -> Iterator[Entry]:
    _, event = voice.words, voice.order.priced.folder.event
    if event.collect is not None and any(one.made.by_couple for one in voice.order.portions if one.copies):
        yield Entry(
            _uid(voice, "collect"),
            event.collect.at,
            _("{names} collect what they make", names=event.for_),
            location=event.collect.where,
            category=_("Collect"),
        )
    if event.hire_back is not None and voice.order.need.hire:
        yield Entry(_uid(voice, "hire-back"), event.hire_back, _("Hire pieces back"), category=_("Hire"))
