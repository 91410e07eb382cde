"""Months, weekdays, days and spans."""

import datetime as dt

import pytest

from sitegen.values.number import Unreadable
from sitegen.values.when import Span, date, days, days_before, moment, months, span, time, weekdays


@pytest.mark.parametrize(
    ("text", "numbers"),
    [
        ("Jan", {1}),
        ("Apr-Oct", {4, 5, 6, 7, 8, 9, 10}),
        ("Nov-Feb", {11, 12, 1, 2}),
        ("Jan, Mar-Apr", {1, 3, 4}),
        ("Jun-Jun", {6}),
        ("Jul-Jun", set(range(1, 13))),
    ],
)
def test_reads_months_also_round_the_new_year(text: str, numbers: set[int]) -> None:
    assert months(text) == numbers


def test_a_mistyped_month_is_told_the_nearest() -> None:
    with pytest.raises(Unreadable) as refused:
        months("Jnue")
    assert refused.value.fix == 'write "Jun"'


@pytest.mark.parametrize("text", ["", "13", "Jan-Feb-Mar", "Apr to Oct"])
def test_refuses_what_are_no_months(text: str) -> None:
    with pytest.raises(Unreadable):
        months(text)


@pytest.mark.parametrize(
    ("text", "numbers"),
    [("Tue Wed", {1, 2}), ("Mon-Fri", {0, 1, 2, 3, 4}), ("Sat - Mon", {5, 6, 0}), ("Tue, Thu", {1, 3})],
)
def test_reads_weekdays(text: str, numbers: set[int]) -> None:
    assert weekdays(text) == numbers


def test_reads_times_and_dates() -> None:
    assert time("15:30") == dt.time(15, 30)
    assert date("2028-02-29") == dt.date(2028, 2, 29)
    assert moment("2027-06-14 12:00") == dt.datetime(2027, 6, 14, 12, 0)  # noqa: DTZ001 - a place's own time


@pytest.mark.parametrize("text", ["24:00", "12:60", "noon", "1530"])
def test_refuses_what_is_no_time(text: str) -> None:
    with pytest.raises(Unreadable):
        time(text)


@pytest.mark.parametrize("text", ["2027-02-29", "2027-6-1", "12/06/2027", "2027-13-01"])
def test_refuses_what_is_no_date(text: str) -> None:
    with pytest.raises(Unreadable):
        date(text)


def test_reads_numbers_of_days() -> None:
    assert days("30 days") == 30
    assert days_before("1 day before") == 1
    with pytest.raises(Unreadable):
        days("30 days before")
    with pytest.raises(Unreadable):
        days_before("30 days")


def test_reads_spans_of_days() -> None:
    assert span("3") == Span(3)
    assert span("2-4") == Span(2, 4)
    assert span("2-2") == Span(2, 2)
    with pytest.raises(Unreadable) as refused:
        span("4-2")
    assert refused.value.fix == "write 2-4"
