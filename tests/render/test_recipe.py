"""What is in a piece, and what answers change, in words."""

from fractions import Fraction

import pytest

from sitegen.render.recipe import across
from sitegen.render.voice import Voice, voice_for
from sitegen.values.length import Length
from sitegen.values.money import Currency
from tests.render import sample


@pytest.fixture
def voice() -> Voice:
    return voice_for("en-US", Currency("USD", 2))


@pytest.mark.parametrize(
    ("each", "quantity", "said"),
    [
        ("2/3", 5, "about 4 across 5"),  # the design's own example
        ("5/2", 4, "10 across 4"),
        ("5/2", 5, "about 13 across 5"),
        ("1/2", 1, "about 1"),
        ("3", 1, "3"),
    ],
)
def test_a_part_of_a_stem_is_told_across_all(each: str, quantity: int, said: str, voice: Voice) -> None:
    assert across(Fraction(each) * quantity, quantity, voice) == said


@pytest.mark.parametrize(
    ("value", "said"),
    [("3", "3"), ("5/2", "2½"), ("2/3", "⅔"), ("2/5", "0.4"), ("0", "0"), ("13/4", "3¼")],
)
def test_amounts_read_as_people_write_them(value: str, said: str, voice: Voice) -> None:
    assert voice.amount(Fraction(value)) == said
    assert voice.amount(Length(Fraction(value), "yd")) == f"{said} yd"


def test_decimals_follow_the_language() -> None:
    assert voice_for("de-DE", Currency("EUR", 2)).amount(Fraction(2, 5)) == "0,4"


def test_the_list_gives_each_and_in_all() -> None:
    contents = sample.view().parts[0].pieces[0].contents
    assert contents is not None
    rows = [(stem.name, stem.each, stem.in_all, stem.together) for stem in contents.stems]
    assert rows == [
        ("Garden rose, blush", "3", "15", ""),
        ("Larkspur", "2", "10", ""),
        ("Olive", "", "", "about 4 across 5"),
    ]
    assert contents.summary == "about 6 stems in each"


def test_names_alone_carry_no_count() -> None:
    contents = sample.view(studio={"show_stems": "names"}).parts[0].pieces[0].contents
    assert contents is not None
    assert contents.summary == "3 kinds"
    assert not any((stem.each, stem.in_all, stem.together) != ("", "", "") for stem in contents.stems)
    html = sample.page(studio={"show_stems": "names"})
    assert "more Garden rose" in html
    assert "2 more Garden rose" not in html
    assert "across 5" not in html


def test_a_studio_that_shows_no_stems_shows_none_anywhere() -> None:
    html = sample.page(mind=["scent"], studio={"show_stems": "no"})
    assert "Garden rose" not in html
    assert "What is in it" not in html


def test_a_varied_set_gives_no_count_each_for_what_is_dealt() -> None:
    dealt = sample.BOUQUETS | {"varied": {"keep": ["rose-blush"]}}
    contents = sample.view(dealt, sample.ARCH).parts[0].pieces[0].contents
    assert contents is not None
    assert [(stem.each, stem.together) for stem in contents.stems][:2] == [("3", ""), ("", "10 across 5")]


def test_answers_say_what_they_change() -> None:
    fullness, colour, tie = sample.view().parts[0].pieces[0].choices
    assert fullness.answers[1].changes == "2 more Garden rose; ⅓ more Olive"
    assert colour.answers[1].changes == "Garden rose, cream in place of blush"
    assert [answer.changes for answer in tie.answers] == ["½ yd of Silk ribbon", "1½ yd of Silk ribbon"]
    assert fullness.answers[0].changes == ""
