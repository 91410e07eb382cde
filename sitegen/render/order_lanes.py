"""The picture of the run sheet: one lane a place, our work, the guests, and what moves between."""

import datetime as dt
from collections.abc import Sequence
from fractions import Fraction

from sitegen.order.run import Stop
from sitegen.render.order_day_page import Arrow, Key, Lane, LaneFill, Lanes, Tick
from sitegen.render.order_voice import OrderVoice
from sitegen.render.paper import shorten
from sitegen.values.number import decimal_text

_LEFT, _WIDE = 96, 396
_TOP, _PITCH, _HIGH = 18, 34, 20
_HOUR = dt.timedelta(hours=1)
_MOST_LABELS = 8


def lanes(voice: OrderVoice, stops: Sequence[Stop]) -> Lanes | None:
    """Draw the day on which most places are used; None where nothing has an hour."""
    days = [stop.day for stop in stops]
    shown = [stop for stop in stops if stop.day == max(days, key=days.count)] if days else []
    moments = [moment for stop in shown for moment in _moments(stop)]
    if not moments or max(moments) == min(moments):
        return None
    first = min(moments).replace(minute=0)
    last = max(moments) if not max(moments).minute else max(moments).replace(minute=0) + _HOUR
    scale = _Scale(first, max(last, first + _HOUR))
    foot = _TOP + _PITCH * len(shown)
    return Lanes(
        height=foot + 24,
        foot=foot,
        ticks=tuple(scale.ticks(voice)),
        lanes=tuple(_lane(stop, i, scale) for i, stop in enumerate(shown)),
        arrows=tuple(_arrows(voice, shown, scale)),
        key=_key(voice),
        key_y=foot + 11,
        told=_told(voice, shown),
    )


class _Scale:
    """From moments to the drawing's units."""

    def __init__(self, first: dt.datetime, last: dt.datetime) -> None:
        self.first, self.last = first, last

    def at(self, moment: dt.datetime) -> Fraction:
        return _LEFT + Fraction((moment - self.first) // _MINUTE * _WIDE, (self.last - self.first) // _MINUTE)

    def ticks(self, voice: OrderVoice) -> list[Tick]:
        hours = (self.last - self.first) // _HOUR
        step = next(n for n in (1, 2, 3, 4, 6, 12, 24, hours + 1) if hours <= n * _MOST_LABELS)
        moments = [self.first + n * _HOUR for n in range(0, hours + 1, step)]
        return [Tick(_text(self.at(moment)), voice.time(moment.time())) for moment in moments]


_MINUTE = dt.timedelta(minutes=1)


def _text(value: Fraction) -> str:
    return decimal_text(value, 2)


def _spans(stop: Stop) -> list[tuple[str, dt.datetime, dt.datetime]]:
    """Our work, and the guests; a start without an end is drawn as a stroke."""
    found = []
    if stop.arrives and stop.done and stop.done > stop.arrives:
        found.append(("process", stop.arrives, stop.done))
    if stop.hours.starts:
        found.append(("guests", stop.hours.starts, stop.hours.ends or stop.hours.starts))
    found += [("process", s.at, s.until) for s in stop.steps if s.kind == "strike" and s.at and s.until]
    return found


def _moments(stop: Stop) -> list[dt.datetime]:
    moments = [moment for _, first, last in _spans(stop) for moment in (first, last)]
    moments += [step.at for step in stop.steps if step.at]
    return moments


def _lane(stop: Stop, place: int, scale: _Scale) -> Lane:
    y = _TOP + _PITCH * place
    fills = []
    for kind, first, last in _spans(stop):
        x, width = scale.at(first), max(scale.at(last) - scale.at(first), Fraction(3))
        use = (stop.place.use or "") if stop.place and kind == "guests" else ""
        label = use if len(use) * 5 + 6 < width else ""
        fills.append(LaneFill(_text(x), _text(width), kind, label, _text(x + width / 2)))
    name = shorten(stop.place.name, 17) if stop.place else ""
    return Lane(name, y + (_PITCH - _HIGH) // 2, y + _PITCH, tuple(fills))


def _arrows(voice: OrderVoice, shown: Sequence[Stop], scale: _Scale) -> list[Arrow]:
    """One arrow for all that goes from one place to another, from the first that leaves."""
    lane = {stop.id: _TOP + _PITCH * i + _PITCH // 2 for i, stop in enumerate(shown)}
    found: dict[tuple[str, str], Arrow] = {}
    for stop in shown:
        for step in stop.steps:
            pair = (stop.id, step.other.id if step.other else "")
            if step.kind != "leave" or step.at is None or pair in found or pair[1] not in lane:
                continue
            if pair[0] == pair[1]:
                continue
            x, y, to = scale.at(step.at), lane[pair[0]], lane[pair[1]]
            found[pair] = Arrow(
                x=_text(x),
                y=y,
                to_x=_text(min(x + 14, Fraction(_LEFT + _WIDE))),
                to_y=to - _HIGH // 2 if to > y else to + _HIGH // 2,
                label=voice.time(step.at.time()),
                label_x=_text(x + 10),
                label_y=y + (13 if to > y else -6),
            )
    return list(found.values())


def _key(voice: OrderVoice) -> tuple[Key, ...]:
    _ = voice.words
    return (
        Key("process", _("our work"), str(_LEFT)),
        Key("guests", _("guests"), str(_LEFT + 70)),
        Key("arrow", _("moves to its second place"), str(_LEFT + 130)),
    )


def _told(voice: OrderVoice, shown: Sequence[Stop]) -> str:
    _, said = voice.words, []
    for stop in shown:
        if stop.place is None:
            continue
        spans = [
            f"{_('guests') if kind == 'guests' else _('our work')} "
            f"{voice.time(first.time())}–{voice.time(last.time())}"
            for kind, first, last in _spans(stop)
        ]
        moves = [
            _("to {place} {time}", place=step.other.name, time=voice.time(step.at.time()))
            for step in stop.steps
            if step.kind == "leave" and step.other and step.other != stop.place and step.at
        ]
        said.append(f"{stop.place.name}: {', '.join([*spans, *moves]) or '–'}")
    return _("The day by places. {places}.", places="; ".join(said))
