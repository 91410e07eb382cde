"""What is common in the trade, held against the demo's attendants' bouquets.

Common practice, no source: these are what florists do, and no published page was found for any of them.
"""

import datetime as dt
from fractions import Fraction
from typing import Any

import pytest

from sitegen.choices.picks import usual_picks
from sitegen.choices.table import table
from sitegen.model.content import Shared
from sitegen.order import practice
from sitegen.order.order import order
from sitegen.order.work import tasks
from sitegen.price.event import price_event
from sitegen.price.priced import Combination, PricedPiece
from sitegen.render.order_cards import cards
from sitegen.render.order_voice import order_voice
from sitegen.values.length import Length, length
from tests import make
from tests.reading import DEMO, read_content


@pytest.fixture(scope="module")
def demo() -> tuple[Shared, list[PricedPiece]]:
    """The demo's sets of bouquets that move to a second place."""
    shared, folders = read_content(DEMO)
    pieces = [piece for folder in folders for piece in price_event(shared, folder).pieces]
    return shared, [piece for piece in pieces if "attendants" in piece.id and piece.file.piece.second_place]


def ribbon(combination: Combination) -> Length:
    goods = combination.made.goods
    (used,) = (n for name, n in goods.items() if name.startswith("silk-ribbon") and isinstance(n, Length))
    return used


def finishes(pieces: list[PricedPiece]) -> list[tuple[str, Length]]:
    """What each answer says of the ribbon's fall, with its length."""
    return [
        (choice.answers[answer].label, ribbon(combination))
        for piece in pieces
        for combination in piece.combinations
        for choice, answer in zip(piece.file.piece.choices, combination.answers, strict=True)
        if choice.id == "ribbon"
    ]


def test_the_demo_has_sets_to_look_at(demo: tuple[Shared, list[PricedPiece]]) -> None:
    assert len(demo[1]) >= 2
    assert {"Wrapped" in label for label, _ in finishes(demo[1])} == {True, False}


def test_half_a_yard_of_ribbon_wraps_a_handle(demo: tuple[Shared, list[PricedPiece]]) -> None:
    assert {used for label, used in finishes(demo[1]) if "Wrapped" in label} == {length("0.5 yd")}


def test_a_long_trail_takes_one_yard_to_one_and_a_half(demo: tuple[Shared, list[PricedPiece]]) -> None:
    for label, used in finishes(demo[1]):
        assert "Wrapped" in label or length("1 yd").metres <= used.metres <= length("1.5 yd").metres


def test_one_is_built_in_about_ten_minutes_once_its_stems_are_pulled(
    demo: tuple[Shared, list[PricedPiece]],
) -> None:
    """About ten for a small one; one with more than thirty stems takes up to twice that."""
    for piece in demo[1]:
        for combination in piece.combinations:
            stems = sum(combination.made.recipe.values())
            assert 8 <= combination.made.minutes <= max(Fraction(12), Fraction(2, 3) * stems)


def test_a_whole_set_has_one_finished_length(demo: tuple[Shared, list[PricedPiece]]) -> None:
    for piece in demo[1]:
        finished = piece.file.piece.stem_length
        assert finished is not None
        assert length("6 in").metres <= finished.metres <= length("9 in").metres


def test_its_second_place_is_a_cup_of_three_to_four_inches(demo: tuple[Shared, list[PricedPiece]]) -> None:
    shared, pieces = demo
    for piece in pieces:
        second = piece.file.piece.second_place
        vessel = (second.vessel if second else None) or ""
        mouth = shared.goods[vessel].mouth
        assert mouth is not None
        assert length("3 in").metres <= mouth.metres <= length("4 in").metres
        assert piece.as_suggested.made.goods[vessel] == 1


# What the sheets say where a recipe says nothing. Common practice, no source: half a yard to wrap a handle, one to one
# and a half with a trail, a cup of three to four inches, twice the time for who does it first.
def test_what_is_told_where_a_recipe_is_silent() -> None:
    assert length("0.5 yd") == practice.INCHES.wrapped
    assert (length("1 yd"), length("1.5 yd")) == practice.INCHES.trailing
    assert (length("3 in"), length("4 in")) == practice.INCHES.cup
    assert practice.FIRST_TIME == 2


def test_what_is_told_as_usual_is_neither_bought_nor_priced() -> None:
    bouquet = {"recipe": {"rose": "3"}, "build": {"method": "hand-tied"}}
    priced = price_event(make.shared(stems={"rose": make.stem("2.00")}), make.event(bouquet))
    bare = order(priced, usual_picks(table(priced)), dt.date(2031, 5, 1))
    laid = cards(order_voice(bare, dt.date(2031, 5, 1)), {})
    assert laid is not None
    told = {fact.label: fact.text for page in laid.pages for card in page for fact in card.facts}
    assert told["To cut"].replace("\N{NO-BREAK SPACE}", " ").startswith("none in the recipe; usual are ½ yd")
    assert bare.need.goods == ()
    assert bare.quoted == 6


# Common practice, no source: about ten minutes to build one attendant's bouquet, and pulling its stems takes longer.
def test_pulling_takes_longer_than_building_where_nothing_is_written() -> None:
    bouquets = {"recipe": {"rose": "30"}, "quantity": "4", "build": {"method": "hand-tied"}, "minutes": "0"}

    def minutes(**studio: Any) -> dict[str, Fraction]:
        shared = make.shared(stems={"rose": make.stem("2.00")}, **studio)
        priced = price_event(shared, make.event(bouquets))
        made = order(priced, usual_picks(table(priced)), dt.date(2031, 5, 1))
        return {task.what: task.minutes for task in tasks(made) if task.what in {"pull", "build"}}

    assert minutes() == {"pull": 4 * 30 * practice.PULLING, "build": 4 * practice.BUILDING}
    assert minutes()["pull"] > minutes()["build"] == 40
    assert minutes(work={"pull": "5"})["pull"] == 20


def test_what_a_recipe_leaves_open_of_its_minutes_enters_no_price() -> None:
    bouquet = {"recipe": {"rose": "3"}, "build": {"method": "hand-tied"}}
    labour = {"markup": {"fresh": "3"}, "labour": {"per_hour": "60.00"}}
    shared = make.shared(stems={"rose": make.stem("2.00")}, pricing=labour)
    (piece,) = price_event(shared, make.event(bouquet)).pieces
    assert piece.as_suggested.each == 1800
