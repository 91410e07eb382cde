"""The picture of the days: a bar for each, its five kinds of work told apart without colour."""

from fractions import Fraction

from sitegen.model.terms import Crew
from sitegen.order.days import Day, Days, kinds_of
from sitegen.order.work import KINDS, Kind
from sitegen.render.order_day_page import Bar, Fill, Key, LoadChart, Tick
from sitegen.render.order_voice import OrderVoice
from sitegen.render.words import Words
from sitegen.values.number import decimal_text

_LEFT, _WIDE = 74, 426  # the plot, in units of a drawing 516 wide
_TOP, _PITCH = 20, 30
_ROOM = 96  # for the sum behind a bar


def load_chart(voice: OrderVoice, days: Days, crew: Crew | None) -> LoadChart | None:
    """Draw how full the days are; None where there is no work."""
    shown = [day for day in days.days if day.total]
    if not shown:
        return None
    hours = _axis(shown, days.capacity)
    foot = _TOP + _PITCH * len(shown)
    return LoadChart(
        height=foot + 24,
        foot=foot,
        bars=tuple(_bar(voice, days, day, i, hours) for i, day in enumerate(shown)),
        ticks=tuple(_ticks(voice, days.capacity, hours)),
        line=_line(voice, days.capacity, crew, hours),
        key=_key(voice.words),
        key_y=foot + 11,
        told=_told(voice, days, shown),
    )


def _axis(shown: list[Day], capacity: Fraction | None) -> int:
    """How many hours the plot is wide: a whole day, or more where a bar and its sum need it."""
    most = max(*(day.total for day in shown), capacity or Fraction(0)) / 60
    hours = 24
    while most * _WIDE / hours > _WIDE - _ROOM:
        hours += 6 if hours < 60 else hours
    return hours


def _at(minutes: Fraction, hours: int) -> Fraction:
    return _LEFT + minutes * _WIDE / (60 * hours)


def _text(at: Fraction) -> str:
    return decimal_text(at, 2)


def _bar(voice: OrderVoice, days: Days, day: Day, place: int, hours: int) -> Bar:
    fills, done = [], Fraction(0)
    for kind, minutes in kinds_of(day).items():
        if minutes:
            fills.append(Fill(_text(_at(done, hours)), _text(minutes * _WIDE / (60 * hours)), kind))
        done += minutes
    said = voice.words("{hours} h", hours=voice.hours(day.total))
    if days.over(day):
        said = voice.words("{said}, {over} over", said=said, over=voice.hours(days.over(day)))
    y = _TOP + _PITCH * place + (_PITCH - 19) // 2
    return Bar(voice.weekday(day.day), y, tuple(fills), said, _text(_at(day.total, hours) + 5))


def _ticks(voice: OrderVoice, capacity: Fraction | None, hours: int) -> list[Tick]:
    """Three steps over the plot; a number too near to the crew's line makes room for its words."""
    found = []
    for step in range(4):
        at = Fraction(hours * 60 * step, 3)
        hidden = capacity is not None and abs(_at(at, hours) - _at(capacity, hours)) < _ROOM
        label = "" if hidden and step else voice.words("{hours} h", hours=voice.hours(at)) if step else "0"
        found.append(Tick(_text(_at(at, hours)), label))
    return found


def _line(voice: OrderVoice, capacity: Fraction | None, crew: Crew | None, hours: int) -> Tick | None:
    if capacity is None or crew is None:
        return None
    said = voice.words.plural(
        "{hours} h = {n} hand × {each} h",
        "{hours} h = {n} hands × {each} h",
        crew.hands,
        hours=voice.hours(capacity),
        each=voice.hours(crew.hours * 60),
    )
    return Tick(_text(_at(capacity, hours)), said)


def _key(_: Words) -> tuple[Key, ...]:
    names = kind_names(_)
    found, x = [], _LEFT
    for kind in KINDS:
        found.append(Key(kind, names[kind], str(x)))
        x += 30 + 5 * len(names[kind])
    return tuple(found)


def kind_names(_: Words) -> dict[Kind, str]:
    return {
        "process": _("process"),
        "pull": _("pull"),
        "build": _("build"),
        "drive": _("load and drive"),
        "site": _("on site, moves, strike"),
    }


def _told(voice: OrderVoice, days: Days, shown: list[Day]) -> str:
    _, names = voice.words, kind_names(voice.words)
    said = []
    for day in shown:
        parts = ", ".join(
            f"{names[kind]} {voice.hours(minutes)}" for kind, minutes in kinds_of(day).items() if minutes
        )
        total = _("{hours} h", hours=voice.hours(day.total))
        over = _(", {over} over", over=voice.hours(days.over(day))) if days.over(day) else ""
        said.append(f"{voice.weekday(day.day)}: {total}{over} ({parts})")
    return _("Hours of work a day. {days}.", days="; ".join(said))
