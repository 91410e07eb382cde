"""What goes into one piece for the answers picked."""

from fractions import Fraction
from typing import Any

import pytest

from sitegen.price.event import price_event
from sitegen.price.priced import Made
from sitegen.price.recipe import moved
from sitegen.values.length import length
from tests.make import choice, event, pack, shared, stem

STEMS = {name: stem("10.00", "10") for name in ("rose", "ivory", "fern", "olive", "clover")}
GOODS = {
    "silk": pack("36.00", length="25 yd"),
    "pin": pack("6.50", pieces="144"),
    "cup": {"name": "Cup", "hire": "4"},
}


def made(piece: dict[str, Any], *answers: int, **of_event: Any) -> Made:
    """What goes into *piece* for *answers*, or for the usual ones."""
    priced = price_event(shared(stems=STEMS, goods=GOODS), event(piece, **of_event)).pieces[0]
    return (priced.at(answers) if answers else priced.as_suggested).made


def test_an_answers_lines_replace_the_pieces_own() -> None:
    fuller = choice("full", {"id": "as"}, {"id": "more", "recipe": {"rose": "5", "olive": "1"}})
    piece = {"recipe": {"rose": "3", "fern": "2"}, "choices": [fuller]}
    assert made(piece, 0).recipe == {"rose": 3, "fern": 2}
    assert made(piece, 1).recipe == {"rose": 5, "fern": 2, "olive": 1}
    assert list(made(piece, 1).recipe) == ["rose", "fern", "olive"]


def test_0_removes_a_line() -> None:
    bare = choice("bare", {"id": "bare", "recipe": {"rose": "0"}, "goods": {"pin": "0", "silk": "0 yd"}})
    piece = {"recipe": {"rose": "3", "fern": "2"}, "goods": {"pin": "6", "silk": "1 yd"}, "choices": [bare]}
    assert made(piece).recipe == {"fern": 2}
    assert made(piece).goods == {}


def test_minutes_replace_and_added_money_sums() -> None:
    size = choice("size", {"id": "big", "minutes": "15", "add": "1.50"})
    bow = choice("bow", {"id": "yes", "add": "2.25"})
    got = made({"recipe": {"rose": "1"}, "minutes": "10", "choices": [size, bow]})
    assert got.minutes == 15
    assert got.add == Fraction("3.75")


def test_a_negative_amount_is_taken_off() -> None:
    plain = choice("plain", {"id": "yes", "add": "-2"})
    assert made({"recipe": {"rose": "1"}, "choices": [plain]}).add == -2


def test_fullness_and_colour_can_be_asked_side_by_side() -> None:
    full = choice("full", {"id": "as"}, {"id": "more", "recipe": {"rose": "5"}})
    colour = choice("colour", {"id": "as"}, {"id": "ivory", "swap": {"rose": "ivory"}})
    piece = {"recipe": {"rose": "3", "fern": "2"}, "choices": [full, colour]}
    assert made(piece, 1, 1).recipe == {"ivory": 5, "fern": 2}


def test_swaps_are_made_all_at_once() -> None:
    exchange = choice("x", {"id": "x", "swap": {"rose": "ivory", "ivory": "rose"}})
    assert made({"recipe": {"rose": "3", "ivory": "1"}, "choices": [exchange]}).recipe == {
        "ivory": 3,
        "rose": 1,
    }


def test_swaps_of_two_choices_are_made_at_once() -> None:
    one = choice("one", {"id": "one", "swap": {"rose": "ivory"}})
    two = choice("two", {"id": "two", "swap": {"ivory": "fern"}})
    assert made({"recipe": {"rose": "3", "ivory": "1"}, "choices": [one, two]}).recipe == {
        "ivory": 3,
        "fern": 1,
    }


def test_swapped_in_stems_add_to_a_line_that_another_answer_set() -> None:
    full = choice("full", {"id": "more", "recipe": {"ivory": "4"}})
    colour = choice("colour", {"id": "ivory", "swap": {"rose": "ivory"}})
    got = made({"recipe": {"rose": "3", "fern": "2", "ivory": "1"}, "choices": [full, colour]}).recipe
    assert got == {"fern": 2, "ivory": 7}
    assert list(got) == ["fern", "ivory"], "a line that is there keeps its position"


def test_a_swapped_in_stem_that_is_new_takes_the_old_ones_position() -> None:
    colour = choice("colour", {"id": "ivory", "swap": {"fern": "olive"}})
    got = made({"recipe": {"rose": "3", "fern": "2", "ivory": "1"}, "choices": [colour]}).recipe
    assert list(got) == ["rose", "olive", "ivory"]


def test_two_stems_swapped_into_one_are_added() -> None:
    green = choice("green", {"id": "green", "swap": {"rose": "olive", "ivory": "olive"}})
    got = made({"recipe": {"fern": "1", "rose": "3", "ivory": "1/2"}, "choices": [green]}).recipe
    assert got == {"fern": 1, "olive": Fraction(7, 2)}


def test_half_a_bunch_is_counted_by_the_bunch_in_season_before_the_swap() -> None:
    offers = [
        {"supplier": "farm", "bunch": "25", "price": "20", "months": "Nov-Feb"},
        {"supplier": "farm", "bunch": "12", "price": "20"},
    ]
    stems = {"rose": {**stem("1"), "offers": offers}, "ivory": stem("30.00", "5")}
    colour = choice("colour", {"id": "as"}, {"id": "ivory", "swap": {"rose": "ivory"}})
    piece = {"recipe": {"rose": "0.5 bunch"}, "choices": [colour]}

    def recipe(day: str, answer: int) -> dict[str, Fraction]:
        priced = price_event(shared(stems=stems), event(piece, day=day))
        return dict(priced.pieces[0].at((answer,)).made.recipe)

    assert recipe("2031-06-14", 0) == {"rose": 6}
    assert recipe("2031-06-14", 1) == {"ivory": 6}
    assert recipe("2031-01-11", 1) == {"ivory": Fraction(25, 2)}


def test_the_events_stand_ins_come_after_the_answers_swaps() -> None:
    colour = choice("colour", {"id": "as"}, {"id": "ivory", "swap": {"rose": "ivory"}})
    piece = {"recipe": {"rose": "4", "fern": "1"}, "choices": [colour]}
    swaps = [{"from": "rose", "to": "olive", "each": "2"}, {"from": "ivory", "to": "clover", "each": "1/2"}]
    assert made(piece, 0, swaps=swaps).recipe == {"olive": 8, "fern": 1}
    assert made(piece, 1, swaps=swaps).recipe == {"clover": 2, "fern": 1}


def test_stand_ins_are_made_all_at_once() -> None:
    swaps = [{"from": "rose", "to": "ivory"}, {"from": "ivory", "to": "olive", "each": "3"}]
    assert made({"recipe": {"rose": "4", "ivory": "1"}}, swaps=swaps).recipe == {"ivory": 4, "olive": 3}


def test_a_stand_in_may_replace_a_stem_that_nobody_sells_in_this_month() -> None:
    stems = {**STEMS, "rose": stem("1", "20")}
    stems["rose"]["offers"][0]["months"] = "Jan"
    swaps = [{"from": "rose", "to": "ivory"}]
    priced = price_event(shared(stems=stems), event({"recipe": {"rose": "1/2 bunch"}}, swaps=swaps))
    assert priced.pieces[0].as_suggested.made.recipe == {"ivory": 10}


def test_a_second_places_vessel_is_one_more_good() -> None:
    place = {"place": "barn", "vessel": "cup"}
    assert made({"recipe": {"rose": "1"}, "goods": {"pin": "3"}, "second_place": place}).goods == {
        "pin": 3,
        "cup": 1,
    }


def test_a_vessel_that_the_piece_or_an_answer_lists_is_not_counted_twice() -> None:
    place = {"place": "barn", "vessel": "cup"}
    two = choice("cups", {"id": "two", "goods": {"cup": "2"}}, {"id": "own", "goods": {"cup": "0"}})
    assert made({"recipe": {"rose": "1"}, "goods": {"cup": "1"}, "second_place": place}).goods == {"cup": 1}
    piece = {"recipe": {"rose": "1"}, "second_place": place, "choices": [two]}
    assert made(piece, 0).goods == {"cup": 2}
    assert made(piece, 1).goods == {}


def test_lengths_keep_the_unit_they_were_written_in() -> None:
    trail = choice("trail", {"id": "short"}, {"id": "long", "goods": {"silk": "1.5 yd"}})
    piece = {"goods": {"silk": "40 cm"}, "choices": [trail]}
    assert made(piece, 0).goods == {"silk": length("40 cm")}
    assert made(piece, 1).goods == {"silk": length("1.5 yd")}


@pytest.mark.parametrize(
    ("piece", "answer", "by_couple"),
    [
        ("studio", None, False),
        ("couple", None, True),
        ("studio", "couple", True),
        ("couple", "studio", False),
    ],
)
def test_an_answer_may_say_who_makes_it(piece: str, answer: str | None, by_couple: bool) -> None:
    who = choice("who", {"id": "who", **({"made_by": answer} if answer else {})})
    got = made({"recipe": {"rose": "1"}, "made_by": piece, "choices": [who]})
    assert got.by_couple is by_couple


def test_moving_nothing_gives_the_recipe_itself() -> None:
    recipe = {"rose": Fraction(3)}
    assert moved(recipe, {"fern": ("olive", Fraction(1))}) is recipe


def test_the_last_choice_turns_fastest() -> None:
    one = choice("one", {"id": "a"}, {"id": "b"})
    two = choice("two", {"id": "a"}, {"id": "b", "usual": "yes"}, {"id": "c"})
    priced = price_event(shared(stems=STEMS), event({"recipe": {"rose": "1"}, "choices": [one, two]})).pieces[
        0
    ]
    assert [c.answers for c in priced.combinations] == [(0, 0), (0, 1), (0, 2), (1, 0), (1, 1), (1, 2)]
    assert priced.as_suggested.answers == (0, 1)
    assert all(priced.at(c.answers) is c for c in priced.combinations)
