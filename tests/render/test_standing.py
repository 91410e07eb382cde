"""What the couple's page says of its day: changes since, prices and choices that end, approval, money received."""

import dataclasses
import datetime as dt
import gzip
from typing import Any

import pytest
from bs4 import BeautifulSoup, Tag

from sitegen.choices.picks import usual_picks
from sitegen.choices.received import settled, with_received
from sitegen.choices.table import table
from sitegen.choices.totals import totals
from sitegen.render import pages
from sitegen.render.couple import ChangeRow, CouplePage, Since
from sitegen.render.proposal import couple_view
from sitegen.render.scripts import choosing_script
from sitegen.render.standing import Standing, approved
from sitegen.render.voice import voice_for
from tests.render import sample

ON = dt.date(2031, 2, 1)
CLOSES = dt.date(2031, 5, 17)
A_DAY = dt.timedelta(days=1)


def view(standing: Standing, **more: Any) -> CouplePage:
    return couple_view(sample.priced(**more), sample.photos(), standing)


def page(view: CouplePage) -> BeautifulSoup:
    return BeautifulSoup(pages.couple_page(view, sample.theme()), "html.parser")


def one(found: BeautifulSoup, selector: str) -> Tag:
    tag = found.select_one(selector)
    assert tag is not None, selector
    return tag


def test_what_changed_stands_first_and_only_where_something_did() -> None:
    rows = (ChangeRow("#piece-1", "Bouquets", "one more", "+$31"), ChangeRow("", "<Jar>", "no longer", ""))
    said = page(
        view(Standing(ON, changed=Since("What changed since May 3", rows, "As we suggest: $9", "it was $8")))
    )
    section = one(said, "main > section")
    assert section["id"] == "changed"
    assert [row.get_text(" ", strip=True) for row in section.select("li")] == [
        "Bouquets +$31 one more",
        "<Jar> no longer",
    ]
    assert [link["href"] for link in section.select("a")] == ["#piece-1"]
    assert "As we suggest: $9 it was $8" in section.get_text(" ", strip=True)
    assert not page(view(Standing(ON))).select("#changed")


@pytest.mark.parametrize(
    ("today", "fixed"), [(None, False), (ON, False), (CLOSES, False), (CLOSES + A_DAY, True)]
)
def test_choices_are_fixed_from_the_day_after_the_last(today: dt.date | None, *, fixed: bool) -> None:
    made = view(Standing(ON, today))
    assert (made.frozen is not None) == fixed
    said = page(made)
    assert bool(said.select("main.closed")) == fixed
    for part in said.select("[data-while]"):
        assert part.has_attr("hidden") == (part["data-while"] != ("closed" if fixed else "open"))


def test_without_a_last_day_nothing_closes() -> None:
    made = view(Standing(ON, dt.date(2040, 1, 1)), changes_close=None)
    assert (made.frozen, made.closing) == (None, None)
    assert not page(made).select("[data-while=closed]")


def test_an_approved_page_says_when_and_whom_to_ask() -> None:
    contact = {"name": "Una Test", "email": "una@studio.example", "phone": "555-0100"}
    event = sample.priced(studio={"contact": contact})
    voice = voice_for(event.shared.studio.language, event.shared.currency)
    made = approved(dt.date(2031, 5, 3), event, voice)
    assert made.says == "Approved on May 3, 2031."
    assert made.ask == "To change something, please ask Una Test: una@studio.example and 555-0100."
    # An approval counts for more than a last day that has passed.
    said = view(Standing(ON, CLOSES + A_DAY, frozen=made))
    assert said.frozen == made
    assert "as we suggest" not in one(page(said), "main").get_text()


@pytest.mark.parametrize(("today", "over"), [(dt.date(2031, 3, 3), False), (dt.date(2031, 3, 4), True)])
def test_prices_hold_until_their_last_day(today: dt.date, *, over: bool) -> None:
    made = view(Standing(ON, today))
    assert made.held is not None
    assert made.held.over == over
    shown = [part.text for part in page(made).select("[data-past]") if not part.has_attr("hidden")]
    assert shown == [made.held.past if over else made.held.says]


# Money received. The sample's total is $328.29, of which 30 % are $98.49.


def payments(*paid: dict[str, str], **more: Any) -> list[tuple[str, str, str]]:
    found = view(Standing(ON), paid=list(paid), **more).estimate
    rows = [(row.label, row.due, row.amount) for row in found.payments]
    return rows + ([(found.still.label, found.still.detail, found.still.amount)] if found.still else [])


RETAINER = ("Retainer, 30%", "when you approve", "$98.49")


def test_without_money_received_the_payments_are_as_agreed() -> None:
    assert payments() == [RETAINER, ("Balance", "by May 24, 2031", "$229.80")]


def test_what_was_received_stays_and_the_last_payment_takes_up_the_difference() -> None:
    """A retainer of $90.00 was paid when the total was lower: nothing more is asked for it."""
    assert payments({"date": "2031-02-03", "amount": "90.00", "how": "in cash"}) == [
        ("Received", "February 3, 2031", "$90.00"),
        ("Balance", "by May 24, 2031", "$238.29"),
        ("Still due", "", "$238.29"),
    ]


def test_a_small_sum_received_settles_no_payment() -> None:
    assert payments({"date": "2031-02-03", "amount": "20.00"}) == [
        ("Received", "February 3, 2031", "$20.00"),
        RETAINER,
        ("Balance", "by May 24, 2031", "$209.80"),
        ("Still due", "", "$308.29"),
    ]


def test_more_than_the_total_is_said() -> None:
    rows = payments({"date": "2031-03-01", "amount": "300.00"}, {"date": "2031-02-03", "amount": "100.00"})
    assert [row[1] for row in rows[:2]] == ["February 3, 2031", "March 1, 2031"]
    assert rows[-2:] == [("Balance", "by May 24, 2031", "$0.00"), ("Received above the total", "", "$71.71")]


def test_money_received_where_no_payments_were_agreed() -> None:
    rows = payments({"date": "2031-02-03", "amount": "28.29"}, payments=[])
    assert rows[-1] == ("Still due", "", "$300.00")


def test_how_money_came_stays_in_the_studio() -> None:
    made = view(Standing(ON), paid=[{"date": "2031-02-03", "amount": "90.00", "how": "QXCANARY"}])
    html = pages.couple_page(made, sample.theme())
    assert "QXCANARY" not in html
    assert "2031-02-03" not in html


def test_received_money_and_what_is_to_come_are_the_total() -> None:
    whole = table(sample.priced())
    picks = usual_picks(whole)
    planned = totals(whole, picks)
    for received in range(0, planned.total, 997):
        after = with_received(whole, received, settled(planned.payments, received))
        found = totals(after, picks).payments
        assert found[0] == received
        assert sum(found) == planned.total


def test_the_script_is_small() -> None:
    assert len(gzip.compress(choosing_script().encode(), mtime=0)) < 9_000


def test_nothing_of_the_day_changes_an_open_page() -> None:
    first, second = (view(Standing(ON, day)) for day in (ON, ON + A_DAY))
    assert dataclasses.asdict(first) == dataclasses.asdict(second)
