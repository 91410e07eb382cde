"""What is in a piece, and what answers change, in words."""

from fractions import Fraction
from typing import Any

import pytest
from bs4 import BeautifulSoup

from sitegen.render.couple import Frozen
from sitegen.render.proposal import couple_view
from sitegen.render.recipe import across
from sitegen.render.standing import Standing
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
    assert "2 more of Garden rose" not in html
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
    assert fullness.answers[1].changes == "2 more of Garden rose; ⅓ more of Olive"
    assert colour.answers[1].changes == "Garden rose, cream in place of blush"
    assert [answer.changes for answer in tie.answers] == ["½ yd of Silk ribbon", "1½ yd of Silk ribbon"]
    assert fullness.answers[0].changes == ""


SET: dict[str, Any] = {
    **sample.BOUQUETS,
    "recipe": {"rose-blush": "3", "larkspur": "2", "olive": "2", "rose-cream": "1"},
    "choices": [],
    "varied": {"keep": ["rose-blush"]},
    "wearers": ["Bea", "Cleo", "Dot", "Em", "Fay"],
}


def test_a_varied_set_says_what_is_in_each_as_suggested() -> None:
    piece = sample.view(SET).parts[0].pieces[0]
    assert "They share one look and differ in their stems, on purpose." in piece.remarks
    apart = piece.set_apart
    assert apart is not None
    assert apart.summary == "What is in each, as we suggest"
    assert apart.note.startswith("Shared out for 6, as we suggest.")
    names = [one.name for one in apart.ones]
    assert names == ["In all of them", "Bea", "Cleo", "Dot", "Em", "Fay", "Spare"]
    assert apart.ones[0].stems == ("3\u00a0Garden rose, blush",)
    assert len({one.stems for one in apart.ones}) == 7
    assert "$" not in str(apart)


def test_what_is_in_each_stands_on_the_page_without_a_script() -> None:
    soup = BeautifulSoup(sample.page(SET), "html.parser")
    told = soup.select_one("details.each")
    assert told is not None
    names = [one.get_text() for one in told.select("dt")]
    assert names == ["In all of them", "Bea", "Cleo", "Dot", "Em", "Fay", "Spare"]
    assert told.select_one("dd").get_text() == "3\u00a0Garden rose, blush"  # type: ignore[union-attr] # there is one


def test_what_is_in_each_is_shown_as_far_as_stems_are() -> None:
    names = sample.view(SET, studio={"show_stems": "names"}).parts[0].pieces[0].set_apart
    assert names is not None
    assert names.ones[0].stems == ("Garden rose, blush",)
    assert not any(letter.isdigit() for one in names.ones for stem in one.stems for letter in stem)
    assert sample.view(SET, studio={"show_stems": "no"}).parts[0].pieces[0].set_apart is None


def test_copies_of_one_version_are_named_together() -> None:
    apart = sample.view({**SET, "varied": {"versions": "2"}}).parts[0].pieces[0].set_apart
    assert apart is not None
    assert [one.name for one in apart.ones] == ["Bea, Cleo, and Dot", "Em, Fay, and Spare"]


def test_a_set_that_cannot_be_dealt_does_not_claim_to_differ() -> None:
    piece = (
        sample.view({**SET, "varied": {"keep": ["rose-blush", "larkspur", "olive", "rose-cream"]}})
        .parts[0]
        .pieces[0]
    )
    assert piece.set_apart is None
    assert not any("differ" in remark for remark in piece.remarks)


def test_once_agreed_it_is_what_was_agreed() -> None:
    priced = sample.priced(SET)
    frozen = Frozen("Agreed.", "Ask us.", "Agreed", agreed=True)
    page = couple_view(priced, sample.photos(), Standing(frozen=frozen))
    apart = page.parts[0].pieces[0].set_apart
    assert apart is not None
    assert (apart.summary, apart.note) == ("What is in each", "")
