"""Hours of hands, days of preparation, moves and strikes of one wedding that was worked out by hand."""

import datetime as dt
from dataclasses import replace
from fractions import Fraction

import pytest

from sitegen.order.cooler import cooler
from sitegen.order.days import days, kinds_of
from sitegen.order.moves import moves
from sitegen.order.order import Order
from sitegen.order.run import run
from sitegen.order.setting_out import setting_out
from sitegen.order.strike import strikes
from sitegen.order.trips import apart, trips
from sitegen.order.work import hours, tasks
from tests.order.wedding import PIECES, PLACES, order_of, shared_of


@pytest.fixture(scope="module")
def wedding() -> Order:
    return order_of()


def day(n: int) -> dt.date:
    return dt.date(2031, 6, n)


def at(text: str, n: int = 14) -> dt.datetime:
    return dt.datetime.combine(day(n), dt.time.fromisoformat(text))


def test_every_task_of_the_wedding(wedding: Order) -> None:
    # Roses: 20 + 20 + 20 + 8 (+ 1) + 54 + 15 = 138, so 14 bunches; on Thu 12. Gum: 10 + 20 + 27 = 57, so 8; on Wed 11.
    # Pulled: bouquets 5, jars 10, bowls 9 on Thu for Friday's bench; the posies are one; buttons 9 and the arch on Fri.
    told = [(task.day.day, task.what, task.about, task.count, int(task.minutes)) for task in tasks(wedding)]
    assert told == [
        (11, "delivery", "farm", 8, 48),
        (12, "delivery", "farm", 14, 84),
        (12, "pull", "", 25, 125),
        (13, "pull", "", 10, 50),
        (13, "build", "bouquets", 5, 75),
        (13, "build", "jars", 10, 80),
        (13, "build", "bowls", 9, 180),
        (14, "build", "buttons", 9, 72),
        (14, "load", "", 2, 90),
        # There, 10 and 15 from place to place, and back: 145 minutes for each of two.
        (14, "drive", "", 2, 290),
        (14, "move", "bouquets", 5, 10),
        (14, "site", "arch", 1, 120 + 60),
        (14, "site", "jars", 10, 20),
        (14, "move", "jars", 10, 80),
        (14, "site", "bowls", 9, 27),
        (14, "strike", "garden", 2, 90),
        (14, "strike", "barn", 2, 90),
    ]  # fmt: skip
    assert hours(wedding) == Fraction(sum(minutes for *_, minutes in told), 60)


def test_the_days_add_up_to_the_hours(wedding: Order) -> None:
    found = days(wedding)
    assert sum(one.total for one in found.days) == hours(wedding) * 60
    assert [sum(kinds_of(one).values()) for one in found.days] == [one.total for one in found.days]
    assert [(one.day.day, len(one.deliveries)) for one in found.days] == [(11, 1), (12, 1), (13, 0), (14, 0)]
    assert found.capacity == 2 * 8 * 60


def test_the_worst_day_and_where_there_is_room(wedding: Order) -> None:
    found = days(order_of(shared=shared_of(crew={"hands": "2", "hours": "4"})))
    worst = found.fullest
    assert worst is not None
    # 72 + 90 + 290 + 10 + 180 + 20 + 80 + 27 + 180 = 949 minutes, and 480 there are.
    assert worst.day == day(14)
    assert found.over(worst) == 469
    # Fri has 480 - 385 = 95 left, Thu 271, Wed 432: none takes it all, so the most.
    room = found.room_before(worst)
    assert room is not None
    assert (room[0].day, int(room[1])) == (day(11), 432)
    assert days(wedding).over(worst) == 0


def test_the_van_goes_out_for_what_the_studio_makes_alone() -> None:
    theirs = {"recipe": {"rose": "5"}, "made_by": "couple", "place": "gate"}
    assert trips(order_of(theirs)) == ()
    (trip,) = trips(order_of(theirs, {"recipe": {"rose": "1"}, "place": "barn"}))
    assert ([place.id for place in trip.places], int(trip.driven)) == (["barn"], 120)
    (nowhere,) = trips(order_of({"recipe": {"rose": "1"}}, places=[]))
    assert (nowhere.day, len(nowhere.places), int(nowhere.driven)) == (day(14), 0, 120)


def test_the_way_to_the_first_place_may_be_its_own() -> None:
    places = [{**PLACES[0], "travel": "25"}, *PLACES[1:]]
    (trip,) = trips(order_of(places=places))
    assert [int(minutes) for minutes in (trip.way, trip.between, trip.driven)] == [25, 25, 75]
    event = order_of(places=places).priced.folder.event
    assert apart(event, event.places[2], event.places[0]) == 25


def test_a_way_that_nobody_wrote_is_known_as_such() -> None:
    bare = shared_of(work={"bunch": "6"})
    places = [{key: value for key, value in place.items() if key != "travel"} for place in PLACES]
    (trip,) = trips(order_of(places=places, shared=bare))
    assert [place and place.id for place in trip.untold] == ["garden", "gate", "barn"]
    (trip,) = trips(order_of(places=[{**PLACES[0], "travel": "0"}, *PLACES[1:]], shared=bare))
    assert trip.untold == ()
    assert trip.way == 0
    (nowhere,) = trips(order_of({"recipe": {"rose": "1"}}, places=[], shared=bare))
    assert [place is None for place in nowhere.untold] == [True]
    assert all(trip.untold == () for trip in trips(order_of()))


def test_a_place_on_another_day_has_a_trip_and_a_bench_of_its_own() -> None:
    inn = {"id": "inn", "name": "Inn", "date": "2031-06-13"}
    found = order_of({"id": "jug", "recipe": {"rose": "6"}, "place": "inn", "minutes": "10"}, places=[inn])
    assert [trip.day for trip in trips(found)] == [day(13)]
    assert [(task.what, task.day.day) for task in tasks(found)] == [
        ("delivery", 12), ("pull", 12), ("build", 12), ("load", 13), ("drive", 13)
    ]  # fmt: skip


def test_a_stem_that_comes_on_the_bench_day_is_pulled_on_it() -> None:
    late = shared_of()
    rose = late.stems["rose"].model_copy(update={"arrive": late.stems["gum"].arrive})
    farm = late.suppliers["farm"].model_copy(update={"delivers": frozenset({2})})
    found = order_of(
        {"recipe": {"rose": "1"}, "bench": "3"},
        shared=replace(late, stems={**late.stems, "rose": rose}, suppliers={"farm": farm}),
    )
    assert [(task.what, task.day.day) for task in tasks(found)][:3] == [
        ("delivery", 11),
        ("pull", 11),
        ("build", 11),
    ]


def test_what_is_taken_down_and_where(wedding: Order) -> None:
    # Jars leave the garden, the arch stays; bouquets are worn and end in cups; nobody strikes the gate house.
    told = [(one.place.id if one.place else "", int(one.minutes), one.hire) for one in strikes(wedding)]
    assert told == [
        ("garden", 45, {"frame": 1}),
        ("barn", 45, {"cup": 5, "jar": 10, "bowl": 9}),
    ]
    uneven = order_of(shared=shared_of(work={"strike": "75"}))
    assert [one.minutes for one in strikes(uneven)] == [38, 37]
    halves = order_of(shared=shared_of(work={"strike": "7.5"}))
    assert [one.minutes for one in strikes(halves)] == [Fraction(15, 4)] * 2


def test_moves_wait_for_hands() -> None:
    # Both hands carry jars from 15:45 for 40 minutes; the bouquets, asked for at 16:00, wait until 16:25.
    told = [(move.piece, move.at, move.starts, move.stands) for move in moves(order_of())]
    assert told == [
        ("bouquets", at("16:00"), at("16:25"), at("16:50")),  # 10 minutes, and 15 on the way
        ("jars", at("15:45"), at("15:45"), at("16:50")),  # 40 minutes, and 25
    ]


def test_the_run_sheet_by_place_and_time(wedding: Order) -> None:
    told = [
        (
            stop.id,
            [(step.at, step.kind, [item.piece for item in step.items if item.piece]) for step in stop.steps],
        )
        for stop in run(wedding)
    ]
    # Due first is the gate house (12:15), then the garden, then the barn. From 08:30 the arch takes two hands for
    # 120 / 2 + 30 minutes; but to be at the gate by 12:15 is no reason to be there before 11:30. The jars are away at
    # 16:25; then one hand has the bouquets for 10 minutes, and the garden is struck with both after that.
    assert told == [
        ("gate", [
            (at("11:30"), "bring", ["bouquets", "buttons"]),
            (at("11:30"), "theirs", ["posies"]),
            (at("12:15"), "ready", []),
            (at("16:25"), "leave", ["bouquets"]),
        ]),
        ("garden", [
            (at("11:40"), "set", ["arch"]),
            (at("13:10"), "set", ["jars"]),
            (at("13:30"), "ready", []),
            (at("14:30"), "use", []),
            (at("15:45"), "leave", ["jars"]),
            (at("16:35"), "strike", []),
            (at("18:00"), "clear", []),
        ]),
        ("barn", [
            (at("13:55"), "set", ["bowls"]),
            (at("16:30"), "ready", []),
            (at("16:50"), "arrive", ["bouquets"]),
            (at("16:50"), "arrive", ["jars"]),
            (at("17:00"), "use", []),
            (at("23:30"), "strike", []),
            (at("00:45", 15), "clear", []),
        ]),
    ]  # fmt: skip


def test_the_vessel_that_waits_goes_to_the_second_place_alone(wedding: Order) -> None:
    steps = {(stop.id, step.kind): step for stop in run(wedding) for step in stop.steps}
    assert [item.hire for item in steps["gate", "bring"].items] == [{}, {}]
    assert steps["gate", "leave"].items[0].hire == {"cup": 5}
    assert steps["barn", "set"].items[0].hire == {"bowl": 9}
    assert steps["barn", "strike"].items[0].hire == {"cup": 5, "jar": 10, "bowl": 9}


def test_the_morning_is_counted_back_from_the_first_place(wedding: Order) -> None:
    (out,) = setting_out(wedding, run(wedding))
    # At the gate 11:30, an hour away; 45 minutes to load; nine boutonnieres of 8 minutes for two hands: 36.
    assert (out.first.id, out.arrives, out.leave, out.load, out.bench) == (
        "gate", at("11:30"), at("10:30"), at("09:45"), at("09:09")
    )  # fmt: skip


def test_pieces_without_a_place_are_not_lost() -> None:
    found = run(order_of({"id": "jug", "recipe": {"rose": "6"}}, *PIECES))
    assert [stop.id for stop in found] == ["gate", "garden", "barn", ""]
    assert [item.piece for item in found[-1].steps[0].items] == ["jug"]


def test_who_gives_ethylene_meets_who_suffers_from_it(wedding: Order) -> None:
    found = cooler(wedding)
    assert (found.cold, found.warm, found.givers, found.sufferers) == (
        ("rose", "gum"),
        (),
        ("gum",),
        ("rose",),
    )
    (meeting,) = found.meetings
    assert (meeting.giver, meeting.sufferers, meeting.first, meeting.last) == (
        "gum",
        ("rose",),
        day(12),
        day(14),
    )


def test_nothing_made_asks_for_nothing() -> None:
    nothing = order_of({"recipe": {"rose": "1"}, "quantity": "0"})
    assert (tasks(nothing), run(nothing), moves(nothing), strikes(nothing), trips(nothing)) == (
        (),
        (),
        (),
        (),
        (),
    )
    assert days(nothing).fullest is None


def test_a_spare_bouquet_moves_nowhere() -> None:
    bouquets, *others = PIECES
    made = order_of({**bouquets, "extra": "2"}, *others)
    told = {(move.piece, move.copies, int(move.minutes), move.vessel, move.vessels) for move in moves(made)}
    # Of the seven that are made, five go, in the time that five take.
    assert ("bouquets", 5, 10, "cup", 5) in told
