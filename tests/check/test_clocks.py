"""Hours that no clock shows, in regions whose clocks go forward, on the nights that their laws name.

From memory, not looked up: in the United States the second Sunday of March at 2:00 (15 U.S.C. 260a), in the European
Union the last Sunday of March at 1:00 of universal time (Directive 2000/84/EC, article 2).
"""

import datetime as dt
from typing import Any

import pytest

from sitegen.check.clocks import left_out, of_event, of_piece, zones_of
from tests import make

HOUR = dt.timedelta(hours=1)


def gaps(*moments: str, region: str) -> list[dt.timedelta]:
    return [
        max(left_out(dt.datetime.fromisoformat(one), zone) for zone in zones_of(region)) for one in moments
    ]


@pytest.mark.parametrize(
    ("region", "inside", "beside"),
    [
        ("US", "2027-03-14T02:30", ("2027-03-14T01:59", "2027-03-14T03:00", "2027-03-07T02:30")),
        ("DE", "2027-03-28T02:00", ("2027-03-28T01:59", "2027-03-28T03:00", "2027-10-31T02:30")),
        ("GB", "2027-03-28T01:30", ("2027-03-28T00:59", "2027-03-28T02:00", "2027-03-21T01:30")),
    ],
)
def test_the_hour_that_is_left_out_and_those_beside_it(
    region: str, inside: str, beside: tuple[str, ...]
) -> None:
    assert gaps(inside, region=region) == [HOUR]
    assert gaps(*beside, region=region) == [dt.timedelta()] * 3


def test_where_no_clock_moves_no_hour_is_missing() -> None:
    assert gaps("2027-03-14T02:30", "2027-03-28T02:30", region="JP") == [dt.timedelta()] * 2


def told(event: dict[str, Any], piece: dict[str, Any], language: str) -> list[str]:
    folder = make.event(piece, **event)
    (one,) = folder.pieces
    found = [*of_event(folder.event, folder.node, language)]
    found += of_piece(one.piece, folder.event, one.node, language)
    return [problem.what[:17] for problem in found]


def test_every_hour_of_an_event_is_looked_at() -> None:
    hall = {"id": "hall", "name": "Hall", "ends": "23:00", "clear": "02:15"}
    event = {
        "date": "2027-03-13",
        "places": [hall],
        "collect": {"at": "2027-03-14 02:05", "where": "Here"},
        "hire_back": "2027-03-14 02:45",
    }
    piece = {"recipe": {"rose": "1"}, "place": "hall", "second_place": {"place": "hall", "from": "02:30"}}
    assert told(event, piece, "en-US") == [f"there is no 02:{minute}" for minute in ("15", "45", "05", "30")]
    assert told(event, piece, "de-DE") == []
    assert told(event, piece, "en") == []
