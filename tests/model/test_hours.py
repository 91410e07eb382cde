"""Hours of places: times after midnight are the next day's, where that can be meant."""

import datetime as dt
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sitegen.model.event import Event, Place
from sitegen.model.hours import Hours, bench_day, hours_at, moves_at
from sitegen.model.piece import Piece
from sitegen.values.when import following

DAY = dt.date(2031, 6, 14)


def event(*places: dict[str, str]) -> Event:
    return Event.model_validate({"event": "A test", "for": "Us", "date": DAY.isoformat(), "places": places})


def hours(**told: str) -> Hours:
    one = event({"id": "barn", "name": "Barn", **told})
    return hours_at(one.places[0], one)


def piece(**more: Any) -> Piece:
    return Piece.model_validate({"piece": "Jars", "group": "Ceremony", "place": "garden", **more})


def at(text: str, day: int = 14) -> dt.datetime:
    return dt.datetime.combine(dt.date(2031, 6, day), dt.time.fromisoformat(text))


@pytest.mark.parametrize(
    ("told", "expected"),
    [
        ({"starts": "18:00", "ends": "23:30", "clear": "01:00"}, {"clear": at("01:00", 15)}),
        (
            {"starts": "18:00", "ends": "00:30", "clear": "02:00"},
            {"ends": at("00:30", 15), "clear": at("02:00", 15)},
        ),
        ({"ends": "23:30", "clear": "12:00"}, {"clear": at("12:00", 15)}),
        ({"clear": "01:00"}, {"clear": at("01:00", 15)}),
        ({"clear": "17:30"}, {"clear": at("17:30")}),
        ({"access": "05:00", "ready": "09:00"}, {"access": at("05:00"), "ready": at("09:00")}),
        (
            {"date": "2031-06-13", "access": "20:00", "ready": "02:00"},
            {"access": at("20:00", 13), "ready": at("02:00")},
        ),
        # Nobody plans a step of more than eighteen hours: these are slips, told by a check.
        ({"ready": "16:00", "starts": "15:30"}, {"starts": at("15:30")}),
        ({"access": "11:00", "ready": "10:00"}, {"ready": at("10:00")}),
    ],
)
def test_times_after_midnight(told: dict[str, str], expected: dict[str, dt.datetime]) -> None:
    found = hours(**told)
    assert {name: getattr(found, name) for name in expected} == expected


@given(
    st.datetimes(dt.datetime.fromisoformat("2001-01-02"), dt.datetime.fromisoformat("2190-01-01")), st.times()
)
def test_what_follows_comes_after_or_is_more_than_eighteen_hours_off(
    last: dt.datetime, time: dt.time
) -> None:
    found = following(last, time)
    assert found.time() == time
    assert last <= found <= last + dt.timedelta(hours=24) or found + dt.timedelta(
        days=1
    ) - last > dt.timedelta(hours=18)


@pytest.mark.parametrize(
    ("first", "from_", "expected"),
    [
        ({"ready": "14:30", "starts": "15:30"}, "16:30", at("16:30")),
        ({"ready": "14:30", "starts": "15:30"}, "00:30", at("00:30", 15)),
        ({"ready": "14:30"}, "14:00", at("14:00")),  # a slip: not tomorrow afternoon
        ({"ready": "14:30", "ends": "16:10"}, None, at("16:10")),
        ({}, "16:30", at("16:30")),
        ({}, None, None),
    ],
)
def test_when_a_piece_moves(first: dict[str, str], from_: str | None, expected: dt.datetime | None) -> None:
    one = event({"id": "garden", "name": "Garden", **first}, {"id": "barn", "name": "Barn"})
    second = {"place": "barn", **({"from": from_} if from_ else {})}
    assert moves_at(piece(second_place=second), one) == expected
    assert moves_at(piece(), one) is None


def test_the_bench_is_counted_from_the_day_on_which_the_piece_is_used() -> None:
    places = ({"id": "garden", "name": "Garden"}, {"id": "inn", "name": "Inn", "date": "2031-06-13"})
    one = event(*places)
    assert bench_day(piece(), one) == dt.date(2031, 6, 13)
    assert bench_day(piece(place="inn", bench="2"), one) == dt.date(2031, 6, 11)
    assert bench_day(piece(bench="on-site"), one) == DAY
    assert isinstance(one.places[0], Place)
