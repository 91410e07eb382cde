"""The list of all events: rows that keep, the order they stand in, and what each asks of the florist."""

import datetime as dt
import json
from dataclasses import fields, replace
from pathlib import Path
from typing import Any

import pytest
from bs4 import BeautifulSoup
from hypothesis import given
from hypothesis import strategies as st

from sitegen.choices.picks import usual_picks
from sitegen.choices.table import table
from sitegen.choices.totals import totals
from sitegen.model.content import EventFolder, Shared
from sitegen.order.order import order
from sitegen.price.event import price_event
from sitegen.render.desk import INDEX_TEMPLATE, THEME, DeskIndex, IndexRow
from sitegen.render.desk_index import (
    DeskRow,
    NextDate,
    desk_row,
    index_view,
    row_from_json,
    row_to_json,
)
from sitegen.render.desk_next import next_step, short_name
from sitegen.render.pages import florist_page
from sitegen.render.words import words_for
from sitegen.theme import SHIPPED, find_theme
from tests import make
from tests.reading import read_content

MILLRACE = Path(__file__).parents[1] / "golden" / "millrace"
TODAY = dt.date(2031, 6, 1)
PLAIN = make.shared()
ENGLISH = words_for("en")


def row_of(shared: Shared, folder: EventFolder, today: dt.date = TODAY) -> DeskRow:
    priced = price_event(shared, folder)
    prices = table(priced)
    picks = usual_picks(prices)
    return desk_row(priced, totals(prices, picks), order(priced, picks, today))


def listed(*rows: DeskRow, today: dt.date = TODAY) -> DeskIndex:
    return index_view(rows, PLAIN.studio, PLAIN.currency, today)


def live(index: DeskIndex) -> list[IndexRow]:
    return [row for group in index.groups for row in group.rows]


@pytest.fixture(scope="module")
def millrace() -> DeskRow:
    shared, (folder,) = read_content(MILLRACE)
    return row_of(shared, folder)


def some_row(
    event: str,
    day: str,
    *dates: NextDate,
    closed: str | None = None,
    stage: str = "draft",
    current: bool = True,
    pending: bool = False,
) -> DeskRow:
    return DeskRow(
        event=event,
        day=day,
        names=f"Names of {event}",
        title="A test",
        closed=closed,
        total=10000,
        before_tax=8000,
        left=6000,
        late=(),
        dates=(*dates, NextDate(day, "day", "the day itself")),
        stage=stage,
        revision=None if stage == "draft" else 4,
        after_hands=None,
        current=current,
        pending=pending,
    )


@pytest.mark.parametrize("stage", ["draft", "sent", "answered", "approved"])
def test_the_stage_that_was_reached(stage: str) -> None:
    row = some_row("a", "2031-06-14", stage=stage)
    assert [(one.stage.mark, one.stage.word) for one in live(listed(row))] == [(stage, stage)]
    over = listed(row, today=dt.date(2031, 6, 15)).closed
    assert over is not None
    assert over.rows[0].stage.mark == "past"


def test_the_sums_of_a_worked_event(millrace: DeskRow) -> None:
    # Worked by hand: 395.00 - 19.75 + 90.00 is 465.25 without tax, the order costs 163.25.
    assert (millrace.total, millrace.before_tax, millrace.left) == (49898, 46525, 30200)
    (row,) = live(listed(millrace))
    assert (row.total, row.left, row.share) == ("498.98", "302.00", "65%")


def test_the_dates_of_a_worked_event_are_those_on_which_somebody_acts(millrace: DeskRow) -> None:
    # The balance is due 21 days before Saturday 13 September; orders as tests/order counts them back.
    assert [(date.day, date.kind) for date in millrace.dates][:2] == [
        ("2031-08-23", "payment"),
        ("2031-08-30", "order"),
    ]
    assert millrace.dates[-1] == NextDate("2031-09-13", "day", "the day itself")
    assert millrace.dates[0].what == "Balance $349.29"


def test_a_row_survives_json(millrace: DeskRow) -> None:
    row = replace(millrace, late=("too late to order Peony, coral",))
    assert row_from_json(json.loads(json.dumps(row_to_json(row)))) == row


def test_json_that_is_no_row_is_refused(millrace: DeskRow) -> None:
    good = row_to_json(millrace)
    with pytest.raises(TypeError):
        row_from_json({**good, "margin": 1})
    for field in fields(DeskRow):
        with pytest.raises((TypeError, KeyError)):
            row_from_json({name: value for name, value in good.items() if name != field.name})


def test_a_kept_row_tells_the_right_next_date_on_a_later_day(millrace: DeskRow) -> None:
    def next_on(day: dt.date) -> str:
        return live(listed(millrace, today=day))[0].next

    assert next_on(dt.date(2031, 8, 23)) == "Sat, Aug\u00a023 Balance $349.29".replace(", ", ",\u00a0")
    assert "order Thread Box" in next_on(dt.date(2031, 8, 24))
    assert next_on(dt.date(2031, 9, 13)).endswith("the day itself")


@pytest.mark.parametrize(
    ("today", "said"),
    [
        (dt.date(2031, 6, 1), "in 13 days"),
        (dt.date(2031, 6, 13), "in 1 day"),
        (dt.date(2031, 6, 14), "today"),
        (dt.date(2031, 6, 15), "1 day ago"),
        (dt.date(2031, 7, 4), "20 days ago"),
    ],
)
def test_how_far_off_the_day_is(today: dt.date, said: str) -> None:
    index = listed(some_row("a", "2031-06-14"), today=today)
    (row,) = live(index) or (index.closed.rows if index.closed else ())
    assert row.away == said


def test_the_day_itself_is_not_past_and_the_next_one_is() -> None:
    row = some_row("a", "2031-06-14")
    assert live(listed(row, today=dt.date(2031, 6, 14)))[0].stage.word == "draft"
    after = listed(row, today=dt.date(2031, 6, 15))
    assert not after.groups
    assert after.closed is not None
    assert after.closed.rows[0].stage.word == "past"


@pytest.mark.parametrize("closed", ["declined", "cancelled"])
@pytest.mark.parametrize("day", ["2031-05-01", "2031-07-01"])
def test_closed_comes_before_past(closed: str, day: str) -> None:
    index = listed(some_row("a", day, closed=closed))
    assert index.closed is not None
    (row,) = index.closed.rows
    assert row.stage.word == closed
    assert (row.next, row.what_for, row.command, row.late) == ("", "", "", ())


def test_live_events_stand_by_their_next_date_and_past_ones_last_first() -> None:
    soon = NextDate("2031-06-05", "payment", "Balance $9.00")
    gone = NextDate("2031-05-20", "payment", "Retainer $1.00")
    rows = [
        some_row("far", "2031-12-01", gone),
        some_row("near", "2031-06-10"),
        some_row("due", "2032-01-01", soon),
        some_row("old", "2030-01-01"),
        some_row("older", "2029-01-01"),
    ]
    for given_rows in (rows, rows[::-1]):
        index = listed(*given_rows)
        assert [row.names for row in live(index)] == ["Names of due", "Names of near", "Names of far"]
        assert index.closed is not None
        assert [row.names for row in index.closed.rows] == ["Names of old", "Names of older"]
        assert index.count == "3 live events"


@given(st.lists(st.tuples(st.dates(dt.date(2031, 1, 1), dt.date(2032, 1, 1)), st.booleans()), max_size=8))
def test_every_event_stands_on_the_list_once_whatever_order_they_came_in(
    days: list[tuple[dt.date, bool]],
) -> None:
    rows = [
        some_row(f"e{i}", day.isoformat(), closed="declined" if closed else None)
        for i, (day, closed) in enumerate(days)
    ]
    index = listed(*rows)
    over = index.closed.rows if index.closed else ()
    assert sorted(row.names for row in (*live(index), *over)) == sorted(row.names for row in rows)
    assert listed(*reversed(rows)) == index


@pytest.mark.parametrize(
    ("event", "others", "name"),
    [
        ("2031-06-14-mill", ("2031-07-01-barn",), "mill"),
        ("2031-06-14-mill", ("2031-07-01-Old-Mill",), "2031-06-14-mill"),
        ("no-date", ("2031-07-01-barn",), "no-date"),
        ("2031-06-14--mill", (), "2031-06-14--mill"),
    ],
)
def test_a_command_names_an_event_by_a_part_that_only_it_has(
    event: str, others: tuple[str, ...], name: str
) -> None:
    assert short_name(event, {event, *others}) == name


def test_a_name_with_spaces_is_one_word_for_the_shell() -> None:
    assert next_step("approved", "order", "two barns", ENGLISH) == ("the order", "sitegen order 'two barns'")


@pytest.mark.parametrize(
    ("stage", "kind", "current", "what", "command"),
    [
        ("draft", "order", True, "the first proposal", "send"),
        ("sent", "payment", True, "their choices", "link"),
        ("sent", "payment", False, "what changed, to send", "send"),
        ("answered", "order", True, "your approval", "approve"),
        ("approved", "changes", True, "their last changes", "build"),
        ("approved", "order", False, "the order", "order"),
        ("approved", "delivery", True, "the delivery", "order"),
        ("approved", "day", True, "the sheets, to print", "order"),
    ],
)
def test_each_stage_has_a_next_command(stage: str, kind: str, current: bool, what: str, command: str) -> None:
    assert next_step(stage, kind, "mill", ENGLISH, current=current) == (what, f"sitegen {command} mill")


def test_a_payment_waits_for_the_couple_and_gives_what_to_write_once_it_is_there() -> None:
    balance = NextDate("2031-06-03", "payment", "Balance $10.00", "10.00")
    order = NextDate("2031-06-05", "order", "order Hill")
    (paying,) = live(listed(some_row("a", "2031-07-14", balance, stage="approved")))
    assert paying.what_for == "their payment; once it is in, for paid: […] in event.md"
    assert paying.command == "{date: 2031-06-01, amount: 10.00}"
    both = listed(some_row("a", "2031-07-14", balance, order, stage="approved"))
    assert [group.title for group in both.groups] == ["Waiting for you"]
    assert live(both)[0].command == "sitegen order a"
    (late,) = live(listed(some_row("a", "2031-07-14", balance, stage="approved"), today=dt.date(2031, 6, 4)))
    assert late.command == "{date: 2031-06-04, amount: 10.00}"


def test_a_change_after_an_approval_waits_for_their_word_and_names_its_revision() -> None:
    changed = some_row("a", "2031-07-14", stage="approved", pending=True)
    (row,) = live(listed(changed))
    what = row.what_for, row.command
    assert what == ("their word on the change", f'sitegen approve a --revision {changed.revision} --why "…"')


def test_a_year_is_printed_only_where_it_is_not_todays() -> None:
    index = listed(some_row("a", "2031-06-14"), some_row("b", "2032-06-14"))
    assert ["2031" in row.day.text or "2032" in row.day.text for row in live(index)] == [False, True]


def test_what_can_no_longer_come_and_a_low_total_stand_first() -> None:
    stems = {"rose": make.stem("5.00", name="Rose, blush"), "gum": make.stem("4.00", name="Gum")}
    shared = make.shared(stems=stems)
    folder = make.event({"recipe": {"rose": "1", "gum": "1"}}, day="2031-06-02", least="50.00")
    row = row_of(shared, folder, dt.date(2031, 6, 2))  # stems have to come two days before
    assert row.late == ("too late to order Rose, blush; Gum", "below the least of $50.00")
    assert row_of(shared, make.event({"recipe": {"rose": "1"}}, day="2031-09-01", least="5.00")).late == ()


def test_many_late_stems_are_counted_after_the_first_two() -> None:
    stems = {name: make.stem("5.00", name=name.upper()) for name in "abcd"}
    folder = make.event({"recipe": dict.fromkeys("abcd", "1")}, day="2031-06-01")
    assert row_of(make.shared(stems=stems), folder, TODAY).late == ("too late to order A; B; 2 more",)


def page_of(index: DeskIndex) -> BeautifulSoup:
    theme, problems = find_theme(THEME, SHIPPED)
    assert theme is not None, problems
    return BeautifulSoup(florist_page(INDEX_TEMPLATE, index, index.language, theme), "html.parser")


def test_with_no_event_the_page_says_how_to_begin() -> None:
    page = page_of(listed())
    assert page.find("table") is None
    code = page.find("code")
    assert code is not None
    assert code.get_text() == "sitegen new 2032-06-12-walled-garden"


def test_the_page_links_each_event_and_shows_its_next_command(millrace: DeskRow) -> None:
    page = page_of(listed(millrace, some_row("2030-01-01-old barn", "2030-01-01")))
    assert [link["href"] for link in page.find_all("a")] == [
        "2031-09-13-millrace/index.html",
        "2030-01-01-old%20barn/index.html",
    ]
    assert [code.get_text() for code in page.find_all("code")] == ["sitegen send millrace"]
    details = page.find("details")
    assert details is not None
    assert not details.has_attr("open")


def test_hostile_words_reach_the_page_inert(millrace: DeskRow) -> None:
    bad = '"><script>alert(1)</script><b onmouseover=x>'
    row = replace(millrace, names=bad, title=bad, event=f"2031-01-01-{bad}", late=(bad,))
    page = page_of(listed(row))
    assert len(page.find_all("script")) == 1
    assert page.find("b") is None
    assert bad in page.get_text()


def test_an_unbuilt_event_looks_as_it_did(millrace: DeskRow) -> None:
    kept = row_from_json(json.loads(json.dumps(row_to_json(millrace))))
    assert page_of(listed(kept)) == page_of(listed(millrace))


def test_what_was_sent_waits_for_the_couple_and_overdue_money_for_nobody() -> None:
    balance = NextDate("2031-06-01", "payment", "Balance $10.00")
    rows = [
        some_row("a", "2031-06-14", stage="sent"),
        some_row("b", "2031-06-14", balance, stage="approved"),
        some_row("c", "2031-06-14", balance, stage="answered"),
    ]
    index = listed(*rows, today=dt.date(2031, 6, 2))
    told = {group.title: [(row.names, row.late) for row in group.rows] for group in index.groups}
    assert told == {
        "Waiting for you": [("Names of b", ("Balance $10.00 is overdue",)), ("Names of c", ())],
        "Waiting for the couple": [("Names of a", ())],
    }


@pytest.mark.parametrize(
    ("row", "side"),
    [
        ({"stage": "draft"}, "Waiting for you"),
        ({"stage": "sent"}, "Waiting for the couple"),
        ({"stage": "sent", "current": False}, "Waiting for you"),
        ({"stage": "answered"}, "Waiting for you"),
        ({"stage": "approved", "pending": True}, "Waiting for the couple"),
        ({"stage": "approved", "next": "payment"}, "Waiting for the couple"),
        ({"stage": "approved", "next": "changes"}, "Waiting for the couple"),
        ({"stage": "approved", "next": "order"}, "Waiting for you"),
        ({"stage": "approved", "next": "delivery"}, "Waiting for you"),
        ({"stage": "approved"}, "Nothing due before Sun, Jun 8"),
    ],
)
def test_whose_turn_it_is(row: dict[str, Any], side: str) -> None:
    kind = row.pop("next", None)
    dates = (NextDate("2031-06-07", kind, "something"),) if kind else ()
    (group,) = listed(some_row("a", "2031-06-14", *dates, **row)).groups
    assert group.title.replace("\u00a0", " ") == side


def test_a_row_says_its_revision_and_what_is_left_after_hands() -> None:
    rows = [replace(some_row("a", "2031-06-14", stage="sent"), after_hands=4000), some_row("b", "2031-06-14")]
    told = [(row.revision, row.after_hands) for row in live(listed(*rows))]
    assert sorted(told) == [("not sent", ""), ("revision 4", "40.00")]
