"""Preparation days, run sheet and packing list as they are printed, of a wedding that was worked out by hand."""

import datetime as dt
import re
from dataclasses import replace
from typing import Any

import pytest
from bs4 import BeautifulSoup, Tag

from sitegen.order.cooler import WARM
from sitegen.order.order import Order
from sitegen.order.work import KINDS, hours
from sitegen.render.order_page import OrderPage
from sitegen.render.order_view import Stage, order_view
from sitegen.render.pages import florist_page
from sitegen.theme import SHIPPED, find_theme
from tests.order.wedding import PIECES, PLACES, TODAY, order_of, shared_of


def page_of(order: Order, today: dt.date = TODAY) -> OrderPage:
    return order_view(order, Stage(4, TODAY), today, 123_400)


def html_of(page: OrderPage) -> BeautifulSoup:
    theme, problems = find_theme("sheets", SHIPPED)
    assert theme is not None, problems
    return BeautifulSoup(florist_page("order.html", page, page.language, theme), "html.parser")


def said(text: str) -> str:
    return " ".join(text.replace("\u00a0", " ").replace("\u202f", " ").split())


@pytest.fixture(scope="module")
def page() -> OrderPage:
    places = [{**place, "rules": "No open flame", "address": "Sluice Road 2"} for place in PLACES]
    collect = {"at": "2031-06-13 17:00", "where": "The shed"}
    return page_of(order_of(*PIECES, places=places, collect=collect, hire_back="2031-06-16 12:00"))


@pytest.fixture(scope="module")
def soup(page: OrderPage) -> BeautifulSoup:
    return html_of(page)


def sheet(soup: BeautifulSoup, name: str) -> Tag:
    found = soup.find(id=name)
    assert isinstance(found, Tag)
    return found


def test_the_fullest_day_is_said_in_words() -> None:
    calm, over, nobody = (
        page_of(order_of(shared=shared_of(**more)))
        for more in ({}, {"crew": {"hands": "2", "hours": "7"}}, {"crew": None})
    )
    assert calm.days is not None
    assert over.days is not None
    assert nobody.days is not None
    # Saturday has 949 minutes: 15.8 of 16 hours; of 14 it is 1.8 too many, and Friday, with 385, has 7.6 to spare.
    assert said(calm.days.lead[0]) == "Sat, Jun 14 is the fullest day, with 15.8 of 16 h."
    assert said(over.days.lead[0]) == (
        "Sat, Jun 14 is over by 1.8 h: another pair of hands, or work done earlier: Fri, Jun 13 has 7.6 h free."
    )
    # Alone, nobody is paid and nothing is too much: load, drive and strike are of one pair of hands.
    assert "is the fullest day, with" in nobody.days.lead[0]
    assert nobody.days.chart is not None
    assert nobody.days.chart.line is None


def test_the_picture_shows_the_same_hours_as_the_text_and_needs_no_colour(
    page: OrderPage, soup: BeautifulSoup
) -> None:
    assert page.days is not None
    chart = page.days.chart
    assert chart is not None
    assert [(said(bar.label), bar.total) for bar in chart.bars] == [
        ("Wed, Jun 11", "0.8 h"), ("Thu, Jun 12", "3.5 h"), ("Fri, Jun 13", "6.4 h"), ("Sat, Jun 14", "15.8 h")
    ]  # fmt: skip
    for bar in chart.bars:
        assert f"{said(bar.label)}: {bar.total}" in said(chart.told)
    # One unit is a point; bars are as long as their hours, to a hundredth.
    widths = [sum(float(fill.width) for fill in bar.fills) for bar in chart.bars]
    assert widths[3] / widths[2] == pytest.approx(949 / 385, abs=0.01)
    assert [one.kind for one in chart.key] == list(KINDS)
    drawing = sheet(soup, "days").select_one("svg")
    assert drawing is not None
    assert {one["id"] for one in drawing.select("pattern")} == {"fill-process", "fill-pull", "fill-site"}
    assert drawing["role"] == "img"


@pytest.mark.parametrize("hands", ["1", "2", "9", "80"])
def test_no_bar_or_sum_leaves_the_drawing(hands: str) -> None:
    pieces = [{**piece, "minutes": str(int(piece["minutes"]) * int(hands))} for piece in PIECES]
    found = page_of(order_of(*pieces, shared=shared_of(crew={"hands": hands}))).days
    assert found is not None
    assert found.chart is not None
    for bar in found.chart.bars:
        assert float(bar.end) + 5.5 * len(bar.total) <= 516
    assert all(float(tick.x) <= 500.5 for tick in found.chart.ticks)


def test_days_and_deliveries_are_blocks(page: OrderPage) -> None:
    assert page.days is not None
    told = [(said(block.day), block.under, block.load) for block in page.days.blocks]
    assert told == [
        ("By Mon, Jun 9", "orders and errands", ""),
        ("Wed, Jun 11", "3 days before", "0.8 of 16 h"),
        ("Thu, Jun 12", "2 days before", "3.5 of 16 h"),
        ("Fri, Jun 13", "1 day before", "6.4 of 16 h"),
        ("Sat, Jun 14", "the day itself", "15.8 of 16 h"),
    ]
    friday = page.days.blocks[3]
    assert [said(f"{row.what}{row.more} {row.minutes}") for row in friday.rows] == [
        "Pull 10 pieces by the pull list 50 min",
        "Attendants' bouquets · 5 1:15",
        "Aisle jars · 10 1:20",
        "Low bowls · 9 3:00",
        "All back to the cooler, upright, labelled",
        "5:00 PM the couple collect Posies: box and bucket",
    ]
    saturday = page.days.blocks[4]
    assert said(saturday.rows[0].more) == "· 9, 1 of them spare"
    assert said(f"{saturday.rows[1].what}{saturday.rows[1].more} {saturday.rows[1].minutes}") == (
        "Load (45 min) and drive (145 min in all) · 2 hands 6:20"
    )


def test_the_cooler_says_who_stands_where() -> None:
    one = shared_of()
    gum = one.stems["gum"].model_copy(update={"store": "warm"})
    cold, warm = (
        said(" ".join(found.days.cooler)) if found.days else ""
        for found in (
            page_of(order_of()),
            page_of(order_of(shared=replace(one, stems={**one.stems, "gum": gum}))),
        )
    )
    assert cold.startswith(
        "All kinds of this event stand at 34–38 °F (1–3 °C), 75–85% humidity. None needs the warm room."
    )
    assert "Eucalyptus gives off ethylene, and from Thu, Jun 12 to Sat, Jun 14 stands here with Rose" in cold
    assert "Warm, apart from the cold ones, at 55–65 °F (13–18 °C): Eucalyptus." in warm


@pytest.mark.parametrize(
    ("language", "paper", "said"),
    [
        ("en-US", "a4", "55–65 °F (13–18 °C)"),
        ("en-GB", "a4", "13–18 °C (55–65 °F)"),
        ("de-DE", "a4", "13–18 °C (55–65 °F)"),
        ("en-CA", "letter", "55–65 °F (13–18 °C)"),
    ],
)
def test_the_scale_of_the_studio_stands_first(language: str, paper: str, said: str) -> None:
    studio = shared_of().studio.model_copy(update={"language": language, "paper": paper})
    assert WARM.degrees(metric=studio.metric) == said


def test_a_drive_that_nobody_timed_is_no_drive_of_no_minutes() -> None:
    places = [{key: value for key, value in place.items() if key != "travel"} for place in PLACES]
    soup = html_of(page_of(order_of(places=places, shared=shared_of(work={"load": "45"}))))
    text = said(sheet(soup, "run").get_text(" "))
    assert "Drive time not given, so left out here: to Walled garden, Gate house, and Long barn." in text
    assert "Load (45 min) and drive (no time given) · 2 hands" in said(sheet(soup, "days").get_text(" "))


def test_the_run_sheet_by_its_places(page: OrderPage, soup: BeautifulSoup) -> None:
    assert page.run is not None
    assert said(page.run.lead[0]) == "Bench 9:09 AM · load 9:45 AM · leave 10:30 AM · 11:30 AM at Gate house."
    garden = next(block for block in page.run.blocks if block.title.startswith("Walled garden"))
    assert said(garden.title) == "Walled garden · Ceremony 2:30 PM"
    assert said(garden.meta) == "Sluice Road 2 · in from 8:30 AM · ready by 1:30 PM"
    assert garden.rules == "No open flame"
    told = [said(f"{row.start} {row.what}{row.more} {row.minutes}/{row.hands}") for row in garden.rows]
    assert told == [
        "11:30 AM Drive from Gate house 10/",
        "11:40 AM Garden arch · built here · 1 Frame 90/2",
        "1:10 PM Aisle jars, 10 · 10 Jar 20/1",
        "1:30 PM READY /",
        "2:30 PM Ceremony to 3:15 PM /",
        "3:45 PM Aisle jars, 10 → Long barn 40/2",
        "4:35 PM Strike: 1 Frame, counted by the rental sheet 45/2",
        "6:00 PM CLEAR /",
    ]
    barn = page.run.blocks[-1]
    assert said(barn.change) == "Room change: Dinner begins 105 minutes after Walled garden ends at 3:15 PM."
    assert said(barn.rows[-1].what) == "CLEAR (Sun, Jun 15)"
    assert any(said(row.more) == "· Head table · into 5 Cup, water in first" for row in barn.rows)
    # An hour of the place has nothing to tick; every other line has a box, and a field to write in who does it.
    rows = sheet(soup, "run").select("table.run tbody:not(.mind) tr")
    hours = sheet(soup, "run").select("table.run tr.hour")
    assert [row for row in rows if row.select_one(".tick") is None] == hours
    assert all(row.select_one(".write") is not None for row in rows)


def driven(*places: dict[str, Any], work: dict[str, str] | None = None) -> list[str]:
    """What the run sheet says of the way to each place, one for each."""
    pieces = [{"id": place["id"], "recipe": {"rose": "1"}, "place": place["id"]} for place in places]
    shared = shared_of(work={"bunch": "6"} if work is None else work)
    sheet = page_of(order_of(*pieces, shared=shared, places=places)).run
    assert sheet is not None
    rows = [next((row for row in block.rows if row.what == "Drive"), None) for block in sheet.blocks]
    return [said(f"{row.start}{row.more} {row.minutes}") if row else "" for row in rows]


def test_the_run_sheet_says_when_to_set_out() -> None:
    hall = {"id": "hall", "name": "Hall", "access": "10:00"}
    room = {"id": "room", "name": "Yellow room", "ready": "13:00"}
    inn = {"id": "inn", "name": "The inn", "ready": "15:00"}
    assert driven(hall, room, inn) == ["", "", ""]
    assert driven({**hall, "travel": "40"}, room, {**inn, "travel": "20"}) == [
        "9:20 AM from the studio 40", "", "10:00 AM from Yellow room 20"]  # fmt: skip
    assert driven(hall, room, inn, work={"travel": "30"})[0] == "9:30 AM from the studio 30"


def test_what_is_carried_comes_to_its_second_place_with_those_who_carry_it() -> None:
    bouquets, *others = PIECES
    page = page_of(order_of({**bouquets, "wearers": ["Bea", "Cleo", "Di", "Em", "Flo"]}, *others))
    assert page.run is not None
    gate, garden, barn = (
        [said(f"{row.start} {row.what}") for row in block.rows] for block in page.run.blocks
    )
    assert not any("bouquets" in row for row in (*gate[2:], *garden))
    assert "4:25 PM Attendants' bouquets, 5, from those who carry them" in barn
    assert page.run.lanes is not None
    assert {said(arrow.label) for arrow in page.run.lanes.arrows} == {"3:45 PM"}


def test_the_lanes_tell_in_words_what_they_show(page: OrderPage) -> None:
    assert page.run is not None
    lanes = page.run.lanes
    assert lanes is not None
    assert (
        "Walled garden: our work 11:40 AM–1:30 PM, guests 2:30 PM–3:15 PM, our work 4:35 PM–5:20 PM, to Long barn 3:45 PM"
        in said(lanes.told)
    )
    assert [said(lane.name) for lane in lanes.lanes] == ["Gate house", "Walled garden", "Long barn"]
    for lane in lanes.lanes:
        assert all(float(fill.x) >= 96 and float(fill.x) + float(fill.width) <= 516 for fill in lane.fills)
    assert {said(arrow.label) for arrow in lanes.arrows} == {"4:25 PM", "3:45 PM"}


def test_without_any_hour_there_is_no_picture() -> None:
    places = [{"id": place["id"], "name": place["name"]} for place in PLACES]
    pieces = [
        {**piece, **({"second_place": {"place": "barn"}} if "second_place" in piece else {})}
        for piece in PIECES
    ]
    found = page_of(order_of(*pieces, places=places)).run
    assert found is not None
    assert found.lanes is None
    assert {row.start for block in found.blocks for row in block.rows} == {""}


def test_the_packing_list_by_its_stops(page: OrderPage, soup: BeautifulSoup) -> None:
    assert page.pack is not None
    assert (
        said(page.pack.lead[0])
        == "Load in this order: Long barn, Walled garden, Gate house. What comes off first goes in last."
    )
    assert [said(stop.title) for stop in page.pack.stops] == [
        "1 · Gate house, 11:30 AM", "2 · Walled garden, 11:40 AM", "3 · Long barn, 1:55 PM"
    ]  # fmt: skip
    barn = page.pack.stops[2]
    assert [
        (group.title, [(row.count, row.what, row.home) for row in group.rows]) for group in barn.groups
    ] == [
        ("Boxes", [("9", "Low bowls", "stays")]),
        ("Rentals and mechanics", [("9", "Bowl", "tick"), ("5", "Cup", "tick")]),
        ("Strike", [("5", "Cup", "home"), ("10", "Jar", "home"), ("9", "Bowl", "home")]),
    ]
    for row in sheet(soup, "pack").select("tbody tr:not(.group)"):
        assert (
            len(row.select(".tick")) == (2 if "stays" in row.get_text() else 3)
            or len(row.select(".tick")) == 1
        )


def test_tools_and_first_aid_go_along_once() -> None:
    shared = shared_of(tools=["Secateurs"], first_aid=["Pins"])
    found = page_of(order_of(shared=shared)).pack
    assert found is not None
    titles = [group.title for stop in found.stops for group in stop.groups]
    assert titles.count("Tools, on to every stop") == 1
    assert titles.count("First aid for flowers, on to every stop") == 1
    aid = next(group for group in found.stops[0].groups if group.title.startswith("First aid"))
    # 140 roses and 64 stems of gum are bought, 138 and 57 are pulled.
    assert [(row.what, row.more) for row in aid.rows] == [
        ("Pins", ""), ("Stems left over, in water", "7 Eucalyptus; 2 Rose, cream")
    ]  # fmt: skip


def test_hours_of_hands_are_one_figure_everywhere(page: OrderPage) -> None:
    order = order_of()
    assert page.days is not None
    assert page.days.chart is not None
    shown = sum(float(bar.total.split()[0]) for bar in page.days.chart.bars)
    assert float(hours(order)) == pytest.approx(shown, abs=0.05 * len(page.days.chart.bars))
    assert page.cost is not None
    assert any(f"Hands, {float(hours(order)):.1f} h" in one.label for one in page.cost.left)


EVIL = '</svg></style><script>alert(1)</script><img src=x onerror="alert(2)">'


def test_markup_in_any_name_is_inert() -> None:
    places: list[dict[str, Any]] = [
        {**place, "name": EVIL, "use": EVIL, "address": EVIL, "contact": EVIL, "rules": EVIL}
        for place in PLACES
    ]
    pieces = [{**piece, "piece": EVIL, "handling": EVIL, "cautions": [EVIL]} for piece in PIECES]
    shared = shared_of(tools=[EVIL], first_aid=[EVIL])
    stems = {
        name: stem.model_copy(update={"name": EVIL, "care": EVIL}) for name, stem in shared.stems.items()
    }
    found = html_of(page_of(order_of(*pieces, places=places, shared=replace(shared, stems=stems))))
    assert not found.select("script, img, [onerror]")
    text = sheet(found, "run").get_text() + sheet(found, "days").get_text() + sheet(found, "pack").get_text()
    assert len(re.findall(r"alert\(1\)", text)) > 20


def test_what_was_placed_is_no_longer_to_be_ordered() -> None:
    order = order_of()
    placed = replace(order, rows=tuple(replace(row, placed=TODAY) for row in order.rows))
    found = page_of(placed).days
    assert found is not None
    assert not any(block.under == "orders and errands" for block in found.blocks)
