"""The view of the couple's page: what it says, and what it cannot say."""

import datetime as dt
import json
from copy import deepcopy
from typing import Any

import pytest

from sitegen.choices.picks import usual_picks
from sitegen.choices.table import table
from sitegen.choices.totals import totals
from sitegen.price.event import price_event
from sitegen.render.proposal import couple_view
from sitegen.render.standing import Standing
from tests import make
from tests.render import sample


def test_differences_and_totals_are_those_at_the_suggested_answers() -> None:
    priced = sample.priced()
    prices = table(priced)
    bouquets = sample.view().parts[0].pieces[0]
    fuller = bouquets.choices[0].answers[1]
    step = priced.pieces[0].at((1, 0, 0)).each - priced.pieces[0].as_suggested.each
    assert step == 620
    assert (fuller.difference, fuller.for_all) == ("+$6.20 each", "+$31 for five")
    assert bouquets.price_each == "$16.30 each"
    assert bouquets.price == "5 for $81.50"
    total = totals(prices, usual_picks(prices)).total
    assert sample.view().estimate.total == f"${total // 100}.{total % 100:02}"


def test_one_alone_has_no_price_each() -> None:
    arch = sample.view().parts[1].pieces[0]
    assert (arch.price_each, arch.price, arch.changeable) == ("", "$98", False)
    assert arch.leave_out is not None
    assert arch.leave_out.difference == "−$98"


def test_groups_keep_the_order_in_which_they_are_first_named() -> None:
    parts = sample.view(sample.TABLES, sample.BOUQUETS, sample.ARCH).parts
    assert [part.title for part in parts] == ["Ceremony", "Personal flowers"]
    assert [piece.title for piece in parts[0].pieces] == ["Low bowls", "Arch"]
    assert [piece.key for piece in parts[0].pieces] == ["piece-1", "piece-3"]


def test_the_estimate_reads_as_terms_are_written() -> None:
    estimate = sample.view().estimate
    said = [(row.label, row.detail, row.shown) for row in estimate.sums]
    assert said == [
        ("All pieces", "", True),
        ("Weekday", "5%", True),
        ("Delivery", "12% of the pieces, at least $90", True),
        ("Late collection", "", False),
        ("Sales tax", "8.25%", True),
    ]
    assert [(payment.label, payment.due) for payment in estimate.payments] == [
        ("Retainer, 30%", "when you approve"),
        ("Balance", "by May 24, 2031"),
    ]
    assert estimate.below_least
    assert "$900" in estimate.least


def test_tax_that_is_contained_stands_below_the_total() -> None:
    tax = {"rates": [{"label": "VAT", "rate": "20%"}], "included": "yes"}
    estimate = sample.view(studio={"tax": tax}).estimate
    assert [row.label for row in estimate.contained] == ["VAT contained"]
    assert "VAT" not in {row.label for row in estimate.sums}


def test_the_day_runs_past_midnight_and_ends_once() -> None:
    day = sample.view().hours
    assert [(hour.at.iso, hour.what, hour.own) for hour in day] == [
        ("2031-06-14T14:30", "Flowers ready", False),
        ("2031-06-14T15:30", "Ceremony", True),
        ("2031-06-14T16:30", "Flowers move", False),
        ("2031-06-14T18:00", "Dinner", True),
        ("2031-06-14T23:30", "Dinner ends", True),
        ("2031-06-15T01:00", "Everything cleared", False),
    ]
    assert day[2].pieces == "Attendants' bouquets (Head table)"


def test_cautions_are_told_stem_by_stem_and_for_any_answer() -> None:
    lilies = {"id": "lilies", "label": "Lilies", "recipe": {"lily": "1"}}
    choice = make.choice("extra", {"id": "none", "label": "None"}, lilies)
    bouquets = sample.view(sample.BOUQUETS | {"choices": [choice]}).parts[0].pieces[0]
    assert bouquets.cautions[0].startswith("Listed as harmful to cats: Larkspur; Lily, white.")
    assert bouquets.cautions[1].startswith("Pollen: Lily, white.")
    arch, bowls = sample.view().parts[1].pieces
    assert arch.cautions[-1].startswith("Up high")
    assert bowls.cautions == (
        "Near flame: whether and how is for the venue's rules and the local fire code to say.",
    )


def test_cautions_nobody_asked_about_are_not_told() -> None:
    said = sample.view(mind=[]).parts[0].pieces[0].cautions
    assert said == ()


@pytest.mark.parametrize(
    ("sizes", "layout"),
    [({"c": (1600, 1000)}, "wide"), ({"c": (1000, 1600)}, "tall"), ({"c": (1000, 1000)}, "tall")],
)
def test_a_wide_picture_takes_the_measure(sizes: dict[str, tuple[int, int]], layout: str) -> None:
    page = couple_view(sample.priced(sample.ARCH), sample.photos(**sizes))
    assert page.parts[0].pieces[0].layout == layout


def test_a_direction_is_captioned_as_one() -> None:
    bouquets, (arch, bowls) = sample.view().parts[0].pieces[0], sample.view().parts[1].pieces
    assert [shot.caption for shot in bouquets.shots] == ["", "A direction, not the piece"]
    assert bouquets.shots[1].alt == "Photo of Attendants' bouquets"
    assert arch.shots[0].caption == "A friend"
    assert (bowls.layout, bowls.shots) == ("none", ())


def test_a_caption_that_all_pictures_share_is_said_once() -> None:
    shots = [{"file": "a.jpg", "alt": "One", "credit": "Us"}, {"file": "b.jpg", "alt": "Two", "credit": "Us"}]
    piece = sample.view(sample.ARCH | {"photos": shots}).parts[0].pieces[0]
    assert piece.caption == "Us"
    assert [shot.caption for shot in piece.shots] == ["", ""]


@pytest.mark.parametrize(
    ("for_", "parts", "longest"),
    [
        ("Ada Lind and Ben Okoro", ["Ada Lind", "and", "Ben Okoro"], 5),
        ("Ada & Ben", ["Ada", "&", "Ben"], 3),
        ("The Andover household", ["The Andover household"], 9),
        ("Ada Lindqvist-Moe + Ben", ["Ada Lindqvist-Moe", "+", "Ben"], 9),
    ],
)
def test_names_part_at_the_small_word(for_: str, parts: list[str], longest: int) -> None:
    named: dict[str, Any] = {"for": for_}
    page = sample.view(**named)
    assert [name.text for name in page.names] == parts
    assert page.longest_word == longest
    assert not page.names_open


def test_names_in_other_scripts_get_room() -> None:
    named: dict[str, Any] = {"for": "ليلى و آدم"}
    assert sample.view(**named).names_open


def test_a_dated_proposal_says_until_when_prices_hold() -> None:
    assert sample.view().issued == ("Prices held for 30 days",)
    dated = couple_view(sample.priced(), sample.photos(), Standing(dt.date(2031, 2, 1)))
    assert dated.issued == ("Proposal of February 1, 2031", "Prices held until March 3, 2031")


def test_the_page_says_that_nothing_is_sent_by_itself_and_whom_to_tell() -> None:
    contact = {"name": "Una Test", "email": "una@studio.example", "phone": "555-0100"}
    said = " ".join(sample.view(studio={"contact": contact}).choosing)
    assert "stays here until you send it" in said
    assert "Una Test: una@studio.example and 555-0100" in said
    assert "until May 17, 2031" in said


@pytest.mark.parametrize("web", ["javascript:alert(1)", "data:text/html,x", "studio.example"])
def test_a_web_address_is_never_more_than_an_address(web: str) -> None:
    assert sample.view(studio={"contact": {"name": "Una", "web": web}}).contact.site.startswith("https://")


def _poisoned() -> tuple[dict[str, Any], list[dict[str, Any]], dict[str, Any], dict[str, Any]]:
    """The sample with a canary in each private text, and other costs that come to the same prices."""
    studio: dict[str, Any] = {
        "private": "CANARY",
        "tools": ["CANARY"],
        "crew": {"hands": "9", "pay": "71.31"},
        "pricing": {"markup": {"fresh": "1/2", "goods": "1"}, "target": "71%"},
    }
    pieces = [deepcopy(piece) for piece in (sample.BOUQUETS, sample.ARCH, sample.TABLES)]
    for piece in pieces:
        piece |= {"private": "CANARY", "handling": "CANARY", "boxes": "71", "matters": "5"}
        piece["build"] = {"shape": "CANARY", "bind": "CANARY"}
        piece["site"] = {"minutes": "71"}
        for choice in piece.get("choices", ()):
            for answer in choice["answers"]:
                answer["private"] = "CANARY"
    stems = deepcopy(sample.STEMS)
    for stem in stems.values():
        stem |= {"private": "CANARY", "care": "CANARY", "loss": "0%"}
        for offer in stem["offers"]:
            offer |= {"price": str(2 * float(offer["price"])), "sold_as": "CANARY"}
    event = {"private": "CANARY", "budget": "7131.00", "hire_back": "2031-06-16 12:00"}
    return studio, pieces, stems, event


def test_pages_that_differ_in_private_fields_alone_are_the_same(monkeypatch: pytest.MonkeyPatch) -> None:
    plain = sample.page()
    plain_priced = sample.priced()
    studio, pieces, stems, event = _poisoned()
    monkeypatch.setattr(sample, "STEMS", stems)
    shared = sample.shared(**studio)
    poisoned = price_event(shared, sample.event(*pieces, **event))
    assert [one.as_suggested.each for one in poisoned.pieces] == [
        one.as_suggested.each for one in plain_priced.pieces
    ]
    assert poisoned.pieces[0].as_suggested.cost != plain_priced.pieces[0].as_suggested.cost
    assert sample.page(*pieces, studio=studio, **event) == plain


def test_the_scripts_data_holds_the_table_and_what_the_page_shows() -> None:
    data = json.loads(sample.view().data)
    assert set(data) == {
        "table", "pieces", "parts", "charges", "stems", "counted", "least", "money", "language", "words",
        "page", "title", "mail", "received", "held", "close", "fixed", "agreed",
    }  # fmt: skip
    assert data["parts"] == [[0], [1, 2]]
    assert data["pieces"][0]["recipes"][0] == [[0, 3, 1], [1, 2, 1], [2, 2, 3]]
    names = json.loads(sample.view(studio={"show_stems": "names"}).data)
    assert names["pieces"][0]["recipes"][0] == [[0], [1], [2]]
    none = json.loads(sample.view(studio={"show_stems": "no"}).data)
    assert (none["stems"], none["pieces"][0]["recipes"]) == ([], [])


def test_every_proposal_with_flowers_says_once_whom_to_ask_about_harm() -> None:
    (said,) = [aside for aside in sample.view().note.asides if "poison line" in aside]
    assert said.endswith("when in doubt, please ask a poison line, a doctor or your vet.")
    candles = make.event({"goods": {"candle": "2"}})
    bare = make.shared(goods={"candle": make.pack("2.00", pieces="6")})
    asides = couple_view(price_event(bare, candles), sample.photos()).note.asides
    assert not [aside for aside in asides if "poison line" in aside]
