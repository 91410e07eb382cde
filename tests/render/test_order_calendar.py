"""The calendar file of an event: one entry for each date, and the same UIDs whatever moves."""

import datetime as dt
from typing import Any

import pytest
from icalendar import Calendar

from sitegen.choices.picks import usual_picks
from sitegen.choices.table import table
from sitegen.order.order import order
from sitegen.order.plan import plan_of
from sitegen.price.event import price_event
from sitegen.render.order_calendar import event_calendar
from tests.order.wedding import PIECES, PLACES, TODAY, order_of
from tests.reading import DEMO, read_content


def events(text: str) -> dict[str, Any]:
    return {str(one["UID"]).removesuffix("@sitegen"): one for one in Calendar.from_ical(text).walk("VEVENT")}


def calendar_of(**more: Any) -> str:
    found = order_of(*more.pop("pieces", PIECES), **more)
    return event_calendar(found, plan_of(found), TODAY, approved=True)


@pytest.fixture(scope="module")
def wedding() -> dict[str, Any]:
    return events(
        calendar_of(hire_back="2031-06-16 12:00", collect={"at": "2031-06-13 17:00", "where": "The shed"})
    )


def at(text: str, day: int = 14) -> dt.datetime:
    return dt.datetime.combine(dt.date(2031, 6, day), dt.time.fromisoformat(text))


def test_one_entry_for_each_date(wedding: dict[str, Any]) -> None:
    event = "2031-06-14-test"
    told = {uid.removeprefix(f"{event}."): one["DTSTART"].dt for uid, one in wedding.items()}
    assert told == {
        # Three days before Wed 11 is Sunday, when they are closed: Saturday. Before Thu 12: Mon 9.
        "order.farm.1": dt.date(2031, 6, 7),
        "order.farm.2": dt.date(2031, 6, 9),
        "arrival.farm.1": dt.date(2031, 6, 11),
        "arrival.farm.2": dt.date(2031, 6, 12),
        "bench.1": dt.date(2031, 6, 13),
        "bench.0": dt.date(2031, 6, 14),
        "delivery.day": at("09:45"),
        "set-up.gate": at("11:30"),
        "set-up.garden": at("11:40"),
        "set-up.barn": at("13:55"),
        "move.bouquets": at("16:25"),
        "move.jars": at("15:45"),
        "strike.garden": at("16:35"),
        "strike.barn": at("23:30"),
        "collect": at("17:00", 13),
        "hire-back": at("12:00", 16),
    }


def test_entries_say_until_when_and_where(wedding: dict[str, Any]) -> None:
    strike = wedding["2031-06-14-test.strike.barn"]
    assert (strike["DTEND"].dt, str(strike["SUMMARY"])) == (at("00:15", 15), "Strike: Long barn")
    first = wedding["2031-06-14-test.order.farm.1"]
    assert str(first["DESCRIPTION"]).startswith(
        "Closed on Sun, Jun 8, so a day earlier.".replace(" 8", "\u00a08").replace(
            "Sun, Jun", "Sun,\u00a0Jun"
        )
    )
    assert str(wedding["2031-06-14-test.set-up.gate"]["SUMMARY"]) == "Hand over: Gate house"
    assert {str(one["STATUS"]) for one in wedding.values()} == {"CONFIRMED"}


def test_an_entry_that_moves_keeps_its_uid() -> None:
    places = [{**place, "access": "10:00"} for place in PLACES]
    before, after = events(calendar_of()), events(calendar_of(places=places, day="2031-06-14"))
    assert before.keys() == after.keys()
    moved = [uid for uid in before if before[uid]["DTSTART"].dt != after[uid]["DTSTART"].dt]
    assert "2031-06-14-test.set-up.garden" in moved


def test_the_same_input_gives_the_same_bytes() -> None:
    assert calendar_of() == calendar_of()


def test_every_event_of_the_demo_is_read_back() -> None:
    shared, folders = read_content(DEMO)
    for folder in folders:
        priced = price_event(shared, folder)
        found = order(priced, usual_picks(table(priced)), dt.date(2026, 11, 25))
        text = event_calendar(found, plan_of(found), dt.date(2026, 11, 25), approved=False)
        assert all(len(line) <= 75 for line in text.encode().split(b"\r\n"))
        read = list(Calendar.from_ical(text).walk("VEVENT"))
        assert len({str(one["UID"]) for one in read}) == len(read) > 15
        assert not [one for one in read if one.errors]
