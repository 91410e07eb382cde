"""Days and the cooler against published practice; each test names its source.

Figures of single pages are examples, and what has no source says so.
"""

import datetime as dt
from typing import Any

import pytest

from sitegen.model.catalogue import Supplier
from sitegen.model.hours import hours_at
from sitegen.model.terms import Due
from sitegen.order.calendar import arrival
from sitegen.order.cooler import COLD, WARM, Range
from sitegen.order.moves import moves
from sitegen.order.practice import INCHES, METRIC
from sitegen.values.when import Span
from tests.order.wedding import order_of, shared_of

SATURDAY = dt.date(2027, 6, 12)


@pytest.mark.parametrize(
    ("before", "expected"),
    [
        # Counted by hand in the Gregorian calendar (ISO 8601), each with the practice it stands for.
        (42, "2027-05-01"),  # rebeccasfloraldesigns.com: half is due
        (30, "2027-05-13"),  # countryfloristandgift.net: last changes
        (28, "2027-05-15"),  # transcript of a florist's podcast: final counts are asked
        (
            21,
            "2027-05-22",
        ),  # zuzuspetalsaustin.com; weddings.blumen.com: the order is placed, the balance is due
        (14, "2027-05-29"),  # onesweetdayinmay.com: lists, vases, structures
        (7, "2027-06-05"),  # a wedding forum, an anecdote: long-opening lilies
        (5, "2027-06-07"),  # sacramentowholesaleflowers.com: lilies need three to five days to open
        (3, "2027-06-09"),  # zuzuspetalsaustin.com: flowers arrive
        (2, "2027-06-10"),  # wanderingblooms.com: unpack and process
        (1, "2027-06-11"),  # wanderingblooms.com; botanicalbrouhaha.com: design day
    ],
)
def test_dates_counted_back_from_a_saturday(before: int, expected: str) -> None:
    assert Due("", days_before=before).on(SATURDAY) == dt.date.fromisoformat(expected)
    daily = Supplier.model_validate({"name": "A farm"})
    found = arrival(daily, Span(before), SATURDAY)
    assert found is not None
    assert found.day == dt.date.fromisoformat(expected)


@pytest.mark.parametrize("weeks", [2, 3, 4])
def test_weeks_before_a_saturday_are_saturdays_on_which_some_are_closed(weeks: int) -> None:
    # Computed: so an order that is due on one moves to the Friday before, and the sheets say so.
    closed = Supplier.model_validate(
        {"name": "A farm", "order_days": str(7 * weeks - 3), "closed": "Sat Sun"}
    )
    found = arrival(closed, Span(3), SATURDAY)
    assert found is not None
    assert found.closed == SATURDAY - dt.timedelta(weeks=weeks)
    assert found.order_by == found.closed - dt.timedelta(days=1)


def within(one: Range, low: float, high: float) -> bool:
    """Whether a published range in degrees Celsius and ours share at least a degree's breadth or their edge."""
    return max(one.celsius[0], low) <= min(one.celsius[1], high)


# Table 19.2 adapted from Wills and others, Postharvest (1998), at what-when-how.com, "Crop Post-Harvest", 470: °C.
COLD_KINDS = {
    "alstroemeria": (0, 4), "carnation": (0, 7), "chrysanthemum": (0, 8), "delphinium": (0, 5), "freesia": (0, 4),
    "gypsophila": (0, 5), "iris": (0, 4), "liatris": (0, 5), "lily": (0, 5), "lisianthus": (1, 1), "narcissus": (0, 2),
    "protea": (2, 4), "rose": (0, 4), "snapdragon": (0, 5), "statice": (2, 4), "tulip": (0, 2),
}  # fmt: skip
WARM_KINDS = {"anthurium": (12, 16), "dendrobium": (12.8, 15.6)}
"""Anthurium from the same table; dendrobium from floraldesigninstitute.com, flower library: 55 to 60 °F."""


@pytest.mark.parametrize("kind", COLD_KINDS)
def test_the_cold_range_suits_temperate_kinds(kind: str) -> None:
    assert within(COLD, *COLD_KINDS[kind])
    assert not within(WARM, *COLD_KINDS[kind])


@pytest.mark.parametrize("kind", WARM_KINDS)
def test_the_warm_range_suits_those_that_chill(kind: str) -> None:
    assert within(WARM, *WARM_KINDS[kind])
    assert not within(COLD, *WARM_KINDS[kind])


def test_ranges_against_other_pages() -> None:
    # Hunter, The Art of Floral Design, appendix A (thefreelibrary.com, a0185654687): 32 to 38 °F, 80 to 90 % humidity.
    assert COLD.fahrenheit[1] == 38
    assert COLD.fahrenheit[0] >= 32
    assert COLD.humidity is not None
    assert max(COLD.humidity[0], 80) <= min(COLD.humidity[1], 90)
    # Texas A&M, "10 ways to achieve shrink control": 36 °F, about 5 either way.
    assert COLD.fahrenheit[0] >= 31
    assert COLD.fahrenheit[1] <= 41
    # Review in Ornamental Horticulture (old.scielo.br, S2447-536X2021000300374): not below 10 to 13 °C for tropical kinds.
    assert WARM.celsius[0] >= 13
    # Florists' Review, June 2021: above 41 °F (5 °C) most of the life can be lost.
    assert COLD.celsius[1] < 5


@pytest.mark.parametrize("one", [COLD, WARM])
def test_both_scales_say_the_same(one: Range) -> None:
    # The scales by definition: °C = (°F - 32) × 5 / 9; ours are rounded to whole degrees.
    for fahrenheit, celsius in zip(one.fahrenheit, one.celsius, strict=True):
        assert round((fahrenheit - 32) * 5 / 9) == celsius


def test_a_room_change_with_less_than_its_work_is_told() -> None:
    # petalsandstemsmarket.com and sweetpeadesigns96.com: 45 to 60 minutes are usual. The check is the sum that
    # figures of a room change have to pass: end of the first use + taking down + travel + setting, up to the guests.
    def late(starts: str) -> bool:
        places: list[dict[str, Any]] = [
            {"id": "garden", "name": "Garden", "starts": "15:00", "ends": "16:00"},
            {"id": "barn", "name": "Barn", "starts": starts, "travel": "10"},
        ]
        jars = {
            "recipe": {"rose": "2"}, "quantity": "10", "place": "garden",
            "second_place": {"place": "barn", "minutes": "4"},
        }  # fmt: skip
        order = order_of(jars, places=places, shared=shared_of(crew={"hands": "1"}))
        (move,) = moves(order)
        there = hours_at(order.priced.folder.event.places[1], order.priced.folder.event).starts
        assert move.stands is not None
        assert there is not None
        return move.stands > there

    assert late("16:45")  # 40 minutes of work and 10 on the road do not go into 45
    assert not late("16:50")


def test_a_cup_to_stand_a_bouquet_in_is_three_to_four_inches_wide() -> None:
    # Common practice, no source.
    assert [str(width) for width in INCHES.cup] == ["3 in", "4 in"]
    assert [str(width) for width in METRIC.cup] == ["8 cm", "10 cm"]
