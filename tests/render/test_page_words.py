"""Dates, times, lists and phrases in the couple's language, and the day and colours made of them."""

import datetime as dt
from fractions import Fraction

import pytest

from sitegen.price.event import price_event
from sitegen.render.dates import clock, full_date, listed, locale_of, reads_from
from sitegen.render.palette import colour_name, palette
from sitegen.render.voice import voice_for
from sitegen.render.words import words_for
from sitegen.values.money import Currency
from tests import make

DAY = dt.date(2027, 6, 12)


@pytest.mark.parametrize(
    ("language", "date", "time"),
    [
        # Unicode CLDR's full dates and short times, from memory of its charts.
        ("en-US", "Saturday, June 12, 2027", "3:30\N{NARROW NO-BREAK SPACE}PM"),
        ("en-GB", "Saturday, 12 June 2027", "15:30"),
        ("de-DE", "Samstag, 12. Juni 2027", "15:30"),
        ("fr-FR", "samedi 12 juin 2027", "15:30"),
        ("es-ES", "sábado, 12 de junio de 2027", "15:30"),
    ],
)
def test_dates_and_times_follow_the_language(language: str, date: str, time: str) -> None:
    assert full_date(DAY, language) == date
    assert clock(dt.time(15, 30), language) == time


def test_lists_and_direction_follow_the_language() -> None:
    assert listed(("peony", "rose", "olive"), "en-US") == "peony, rose, and olive"
    assert listed(("peony", "rose"), "de-DE") == "peony und rose"
    assert listed((), "en-US") == ""
    assert (reads_from("en-US"), reads_from("ar-BH")) == ("ltr", "rtl")
    assert str(locale_of("zz-ZZ")) == "en_US"


def test_small_numbers_are_spelled() -> None:
    words = words_for("en-US")
    assert [words.number(n) for n in (0, 5, 12, 13)] == ["none", "five", "twelve", "13"]
    assert words.plural("{n} piece", "{n} pieces", 1) == "1 piece"


@pytest.mark.parametrize(
    ("each", "quantity", "said"),
    [
        (3100, 5, ("+$31 each", "+$155 for five")),
        (-2250, 2, ("−$22.50 each", "−$45 for two")),
        (900, 1, ("+$9", "")),
        (0, 5, ("same price", "")),
    ],
)
def test_a_difference_is_told_for_one_and_for_all(each: int, quantity: int, said: tuple[str, str]) -> None:
    assert voice_for("en-US", Currency("USD", 2)).difference(each, quantity) == said


def test_the_bands_widths_are_the_share_of_what_blooms() -> None:
    stems = {
        "wide": make.stem("1", name="Dahlia, coral", colour="#ea7a62", bloom="4 in"),
        "small": make.stem("1", name="Aster, blue", colour="#5577ad", bloom="2 in"),
        "alike": make.stem("1", name="Rose, coral", colour="#ea7b63", bloom="2 in"),
    }
    shared = make.shared(stems=stems)
    piece = {"recipe": {"wide": "1", "small": "4", "alike": "3"}}
    event = price_event(shared, make.event(piece))
    coral, blue = palette(event, voice_for("en-US", Currency("USD", 2)))
    # Areas in square inches but for one factor: 16 and 3 × 4 of coral, 4 × 4 of blue.
    assert (coral.percent, blue.percent) == ("64%", "36%")
    assert (coral.name, coral.carried_by) == ("Coral", "Dahlia and Rose")
    assert Fraction(coral.width) + Fraction(blue.width) == 100
    assert Fraction(blue.start) == Fraction(coral.width)


def test_the_smallest_colour_keeps_a_width_to_be_seen() -> None:
    stems = {
        "many": make.stem("1", name="Rose", colour="#ffffff", bloom="4 in"),
        "few": make.stem("1", name="Aster", colour="#5577ad", bloom="1 in"),
    }
    event = price_event(make.shared(stems=stems), make.event({"recipe": {"many": "8", "few": "1"}}))
    band = palette(event, voice_for("en-US", Currency("USD", 2)))
    assert band[1].percent == "1%"
    assert Fraction(band[1].width) > Fraction(7, 2)


def test_an_event_without_stems_has_no_band() -> None:
    shared = make.shared(goods={"g": make.pack("1", pieces="1")})
    event = price_event(shared, make.event({"goods": {"g": "1"}}))
    assert palette(event, voice_for("en-US", Currency("USD", 2))) == ()


@pytest.mark.parametrize(
    ("colour", "name"),
    [("#ffffff", "White"), ("#e6c3b8", "Blush"), ("#64122a", "Wine"), ("#f5efe6", "Ivory")],
)
def test_colours_are_named_as_people_would(colour: str, name: str) -> None:
    assert colour_name(colour) == name
