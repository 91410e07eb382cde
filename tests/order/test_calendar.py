"""Delivery days and last days to order, counted back from the event."""

import datetime as dt
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sitegen.model.catalogue import Supplier
from sitegen.order.calendar import Arrival, arrival
from sitegen.values.when import Span

SATURDAY = dt.date(2027, 6, 12)


def supplier(**fields: Any) -> Supplier:
    return Supplier.model_validate({"name": "Hill Farm", **fields})


# Count-back days of a Saturday event, 2027-06-12. Source: the calendar itself (ISO 8601 weekdays, as
# printed by `cal`): -42 Sat 05-01, -21 Sat 05-22, -7 Sat 06-05, -3 Wed 06-09, -2 Thu 06-10, -1 Fri 06-11.
@pytest.mark.parametrize(
    ("back", "day"),
    [
        (42, "2027-05-01"),
        (21, "2027-05-22"),
        (7, "2027-06-05"),
        (3, "2027-06-09"),
        (2, "2027-06-10"),
        (1, "2027-06-11"),
    ],
)
def test_daily_delivery_comes_on_the_last_day_that_will_do(back: int, day: str) -> None:
    found = arrival(supplier(), Span(back), SATURDAY)
    assert found == Arrival(dt.date.fromisoformat(day), dt.date.fromisoformat(day))


def test_the_last_delivery_weekday_at_least_so_many_days_before() -> None:
    found = arrival(supplier(delivers="Tue Wed", order_days="10"), Span(2), SATURDAY)
    assert found == Arrival(dt.date(2027, 6, 9), dt.date(2027, 5, 30))


def test_a_span_ends_at_most_so_many_days_before() -> None:
    monday = supplier(delivers="Mon")
    assert arrival(monday, Span(2, 4), SATURDAY) is None
    assert arrival(monday, Span(2, 5), SATURDAY) == Arrival(dt.date(2027, 6, 7), dt.date(2027, 6, 7))


def test_an_order_on_a_closed_day_moves_to_the_open_day_before() -> None:
    found = arrival(supplier(delivers="Wed", order_days="3", closed="Sat-Sun"), Span(2), SATURDAY)
    assert found == Arrival(dt.date(2027, 6, 9), dt.date(2027, 6, 4), closed=dt.date(2027, 6, 6))


def test_a_supplier_who_is_never_open_cannot_bring_anything() -> None:
    assert arrival(supplier(closed="Mon-Sun"), Span(2), SATURDAY) is None


def test_the_last_day_to_order_still_counts() -> None:
    found = Arrival(dt.date(2027, 6, 9), dt.date(2027, 6, 4))
    assert found.can_come(dt.date(2027, 6, 4))
    assert not found.can_come(dt.date(2027, 6, 5))


@given(
    st.dates(dt.date(1990, 1, 1), dt.date(2200, 1, 1)),
    st.integers(0, 20),
    st.integers(0, 20),
    st.sets(st.integers(0, 6), min_size=1),
)
def test_no_later_delivery_day_would_do(event: dt.date, least: int, more: int, days: set[int]) -> None:
    one = supplier().model_copy(update={"delivers": frozenset(days)})
    found = arrival(one, Span(least, least + more), event)
    window = [event - dt.timedelta(days=back) for back in range(least, least + more + 1)]
    will_do = [day for day in window if day.weekday() in days]
    assert (found.day if found else None) == max(will_do, default=None)
