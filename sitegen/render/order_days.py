"""Preparation days, for the wall: what comes and what is done on each day, and how full it is."""

import datetime as dt
from collections.abc import Iterator
from math import ceil

from sitegen.model.catalogue import Stem
from sitegen.order.cooler import COLD
from sitegen.order.days import Day, Days
from sitegen.order.deliveries import Delivery, deliveries
from sitegen.order.plan import Plan
from sitegen.order.trips import trips
from sitegen.order.work import Task
from sitegen.render.order_cooler import cooler_lines, kept_at
from sitegen.render.order_day_page import DayBlock, DayRow, DaysSheet
from sitegen.render.order_load import load_chart
from sitegen.render.order_voice import NB, OrderVoice


def days_sheet(voice: OrderVoice, plan: Plan) -> DaysSheet | None:
    """Lay out the days from the first order to the last strike."""
    _, found = voice.words, plan.days
    if not found.days:
        return None
    return DaysSheet(
        head=voice.head("days", _("Preparation days"), _("Not approved: days may still move.")),
        lead=tuple(_lead(voice, found)),
        chart=load_chart(voice, found, voice.order.priced.terms.crew),
        blocks=(*_orders(voice), *(block for day in found.days for block in _blocks(voice, found, day))),
        cooler=cooler_lines(voice),
    )


def _lead(voice: OrderVoice, found: Days) -> Iterator[str]:
    _, fullest = voice.words, found.fullest
    if fullest is None or not fullest.total:
        return
    day, over = voice.weekday(fullest.day), found.over(fullest)
    if over:
        room = found.room_before(fullest)
        more = (
            _("another pair of hands, or work done earlier: {day} has {hours} h free.",
              day=voice.weekday(room[0].day), hours=voice.hours(room[1]))
            if room
            else _("another pair of hands.")
        )  # fmt: skip
        yield _("{day} is over by {hours} h: {more}", day=day, hours=voice.hours(over), more=more)
        others = [voice.weekday(one.day) for one in found.days if one is not fullest and found.over(one)]
        if others:
            yield _("Also over: {days}.", days=voice.voice.listed(tuple(others)))
    elif found.capacity is None:
        yield _("{day} is the fullest day, with {hours} h.", day=day, hours=voice.hours(fullest.total))
    else:
        yield _("{day} is the fullest day, with {hours} of {most} h.",
                day=day, hours=voice.hours(fullest.total), most=voice.hours(found.capacity))  # fmt: skip
    yield _("Minutes are for one pair of hands.")


def _orders(voice: OrderVoice) -> Iterator[DayBlock]:
    """What has to be ordered, by its last day, before anything comes."""
    _, by_day = voice.words, dict[dt.date, dict[str, None]]()
    for one in deliveries(voice.order):
        if one.to_order and one.arrival is not None:
            name = voice.shared.suppliers[one.supplier].name
            by_day.setdefault(one.arrival.order_by, {})[name] = None
    if not by_day:
        return
    rows = []
    for day in sorted(by_day):
        passed = _("that day has passed") if day < voice.today else ""
        said = _("Order by {day}", day=voice.day(day))
        rows.append(DayRow(said, f": {voice.voice.listed(tuple(by_day[day]))}", passed))
    rows.append(DayRow(_("Clean"), _(" buckets and the cooler: {range}, no fruit in it",
                                     range=kept_at(COLD, voice))))  # fmt: skip
    yield DayBlock(_("By {day}", day=voice.weekday(max(by_day))), _("orders and errands"), "", tuple(rows))


def _blocks(voice: OrderVoice, found: Days, day: Day) -> Iterator[DayBlock]:
    """A block for each delivery of stems, so that no day fills a page; the rest joins the last."""
    _ = voice.words
    parts = [list(_stems_come(voice, day, one)) for one in day.deliveries if one.stems] or [[]]
    parts[-1] += [_goods_come(voice, one) for one in day.deliveries if not one.stems]
    parts[-1] += list(_work(voice, day))
    load = ""
    if day.total:
        hours = voice.hours(day.total)
        most = voice.hours(found.capacity) if found.capacity else ""
        load = _("{hours} of {most} h", hours=hours, most=most) if most else _("{hours} h", hours=hours)
    for i, rows in enumerate(rows for rows in parts if rows):
        under = _("goes on") if i else _before(voice, day.day)
        yield DayBlock(voice.weekday(day.day), under, "" if i else load, tuple(rows))


def _before(voice: OrderVoice, day: dt.date) -> str:
    _, away = voice.words, (voice.order.priced.folder.event.date - day).days
    if away == 0:
        return _("the day itself")
    if away < 0:
        return _.plural("{n} day after", "{n} days after", -away)
    return _.plural("{n} day before", "{n} days before", away)


def _stems_come(voice: OrderVoice, day: Day, one: Delivery) -> Iterator[DayRow]:
    _ = voice.words
    bunches = _.plural("{n} bunch", "{n} bunches", one.bunches)
    more = _(": {bunches}. Unpack, strip, cut, first drink", bunches=bunches)
    minutes = next((t.minutes for t in day.tasks if t.what == "delivery" and t.about == one.supplier), None)
    yield DayRow(
        voice.comes(voice.shared.suppliers[one.supplier]),
        more,
        minutes=voice.minutes(minutes) if minutes else "",
    )
    for row in one.stems:
        stem = voice.shared.stems[row.thing.id]
        yield DayRow("", f"{int(row.amount)} {_told(voice, stem, day.day)}", stem.care or "")
    goods = len(one.rows) - len(one.stems)
    if goods:
        yield DayRow("", _.plural("and {n} hard good", "and {n} hard goods", goods))


def _told(voice: OrderVoice, stem: Stem, come: dt.date) -> str:
    """Say what a stem needs at once: its drink, its room, the day from which it may open."""
    _ = voice.words
    said = [stem.name]
    if stem.condition:
        said.append(_("drink {hours} h", hours=voice.hours(stem.condition * 60)).replace(" ", NB))
    if stem.store == "warm":
        said.append(_("warm room"))
    if stem.opens and stem.opens.least:
        day = come + dt.timedelta(days=stem.opens.least)
        said.append(_("opens from {day}", day=voice.weekday(day)))
    return " · ".join(said)


def _goods_come(voice: OrderVoice, one: Delivery) -> DayRow:
    names = ", ".join(voice.name(row.thing) for row in one.rows)
    return DayRow(voice.comes(voice.shared.suppliers[one.supplier]), voice.words(": hard goods"), names)


def _work(voice: OrderVoice, day: Day) -> Iterator[DayRow]:
    """What is done besides taking stems in."""
    _ = voice.words
    for task in day.tasks:
        if task.what == "pull":
            said = _.plural(" {n} piece by the pull list", " {n} pieces by the pull list", task.count)
            yield DayRow(_("Pull"), said, minutes=voice.minutes(task.minutes))
        elif task.what == "build":
            yield _built(voice, task)
    whats = {task.what for task in day.tasks}
    if "build" in whats and "load" not in whats:
        yield DayRow("", _("All back to the cooler, upright, labelled"))
    yield from _collected(voice, day.day)
    yield from _out(voice, day)


def _built(voice: OrderVoice, task: Task) -> DayRow:
    extra = voice.pieces[task.about].extra
    spare = voice.words(", {n} of them spare", n=extra) if extra else ""
    return DayRow(
        voice.pieces[task.about].piece, f" · {task.count}{spare}", minutes=voice.minutes(task.minutes)
    )


def _collected(voice: OrderVoice, day: dt.date) -> Iterator[DayRow]:
    collect = voice.order.priced.folder.event.collect
    theirs = [voice.pieces[one.id].piece for one in voice.order.portions if one.copies and one.made.by_couple]
    if collect and theirs and collect.at.date() == day:
        said = voice.words(
            " the couple collect {pieces}: box and bucket", pieces=voice.voice.listed(tuple(theirs))
        )
        yield DayRow(voice.time(collect.at.time()), said)


def _out(voice: OrderVoice, day: Day) -> Iterator[DayRow]:
    _ = voice.words
    by_what = {task.what: task for task in day.tasks if task.what in {"load", "drive"}}
    if "load" in by_what:
        hands, work = by_what["load"].count, voice.shared.studio.work
        drive = by_what["drive"].minutes
        untold = not drive and any(trip.untold for trip in trips(voice.order) if trip.day == day.day)
        driven = _("no time given") if untold else _("{n} min in all", n=ceil(drive / hands))
        said = _.plural(
            " ({load} min) and drive ({driven}) · {n} hand",
            " ({load} min) and drive ({driven}) · {n} hands",
            hands,
            load=ceil(work.load),
            driven=driven,
        )
        yield DayRow(_("Load"), said, minutes=voice.minutes(by_what["load"].minutes + drive))
    if site := day.minutes("site"):
        yield DayRow("", _("On site, moves, strike: see the run sheet"), minutes=voice.minutes(site))
