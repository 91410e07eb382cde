"""Build cards: what stands on them, what is left to practice, and how they share a page."""

import datetime as dt
from collections.abc import Mapping
from dataclasses import replace
from fractions import Fraction
from typing import Any

import pytest

from sitegen.choices.picks import usual_picks
from sitegen.choices.table import table
from sitegen.model.content import EventFolder, Shared
from sitegen.order.order import order
from sitegen.order.sets import VariedSet
from sitegen.price.event import price_event
from sitegen.render.order_card import Card, CardPicture
from sitegen.render.order_cards import Seen, cards
from sitegen.render.order_voice import OrderVoice, order_voice
from sitegen.values.bag import Bag
from sitegen.varied.asked import Deal
from tests import make

TODAY = dt.date(2031, 5, 1)
PICTURE = Seen(CardPicture("../pictures/a.webp", "A bouquet", "As shown to the couple"))
TIED = {"method": "hand-tied"}


def shared_of() -> Shared:
    stems = {
        "rose": make.stem("71.31", "10", name="Garden rose, blush", cautions=["thorns", "cats"]),
        "gum": make.stem("5.00", "8", role="foliage", name="Eucalyptus, silver", cautions=["sap"]),
    }
    goods = {
        "silk": make.pack("9.00", length="5 yd") | {"name": "Silk, ivory"},
        "pin": make.pack("6.50", pieces="144") | {"name": "Pins", "cautions": ["sharps"]},
        "cup": {"name": "Brass cup", "hire": "4.00"},
    }
    return make.shared(stems=stems, goods=goods)


def event_of(*pieces: Mapping[str, Any]) -> EventFolder:
    places = [{"id": "garden", "name": "Walled garden"}, {"id": "barn", "name": "Long barn"}]
    return make.event(*pieces, places=places)


def voice_of(*pieces: Mapping[str, Any]) -> OrderVoice:
    priced = price_event(shared_of(), event_of(*pieces))
    return order_voice(order(priced, usual_picks(table(priced)), TODAY), TODAY)


def all_cards(voice: OrderVoice, seen: Mapping[str, Seen] | None = None) -> list[Card]:
    made = cards(voice, seen or {})
    return [card for page in made.pages for card in page] if made else []


def one_card(seen: Seen | None = None, **piece: Any) -> Card:
    written = {"recipe": {"rose": "3", "gum": "1/2"}, **piece}
    (card,) = all_cards(voice_of(written), {"p1": seen} if seen else {})
    return card


def facts(card: Card) -> dict[str, str]:
    return {fact.label: fact.text.replace("\N{NO-BREAK SPACE}", " ") for fact in card.facts}


def test_a_card_tells_a_helper_all_there_is_to_know() -> None:
    card = one_card(
        piece="Attendants' bouquets",
        quantity="5",
        extra="1",
        minutes="10",
        stem_length="7 in",
        place="garden",
        goods={"silk": "1.5 yd", "pin": "4"},
        build={
            "method": "hand-tied",
            "shape": "loose",
            "bind": "bind wire",
            "finish": "ribbon",
            "first_time": "25",
        },
        second_place={"place": "barn", "spot": "head table", "from": "16:45", "vessel": "cup"},
    )
    said = (card.make, card.first, card.cut, card.place)
    assert tuple(text.replace("\N{NO-BREAK SPACE}", " ") for text in said) == (
        "Make 6 (1 spare) · 10 min each",
        "first time 25 min",
        "Cut ends 7 in below the binding, the same in all",
        "Walled garden · bench Fri, Jun 13",
    )
    assert facts(card) == {
        "Method": "Hand-tied",
        "Shape": "Loose",
        "Binding": "Bind wire",
        "Finish": "Ribbon",
        "To cut": "Silk, ivory, 1½ yd (54 in)",
        "Goods": "4 × Pins; 1 × Brass cup",
        "After": "Head table, Long barn, 4:45 PM · stands in Brass cup, with water".replace(
            "45 PM", "45\u202fPM"
        ),
    }
    assert [(one.count, one.name.kind) for one in card.stems] == [("3", "Garden rose"), ("½", "Eucalyptus")]


def test_one_piece_has_no_each_and_no_set() -> None:
    card = one_card(minutes="45", stem_length="9 in", build=TIED)
    assert card.make.replace("\N{NO-BREAK SPACE}", " ") == "Make 1 · 45 min"
    assert card.cut.replace("\N{NO-BREAK SPACE}", " ") == "Cut ends 9 in below the binding"


# Common practice, no source: half a yard of ribbon for a wrapped handle, one to one and a half with a trail; one
# finished length in a set; a bouquet that is put down often is built with one side and stands in a cup of 3 to 4 in.
def test_what_a_recipe_leaves_open_is_told_as_practice() -> None:
    card = one_card(quantity="3", build=TIED, second_place={"place": "barn"})
    assert card.cut == "Cut ends to one length, the same in all"
    said = facts(card)
    assert said["Shape"] == "One-sided is usual: it is put down often"
    assert said["To cut"] == "none in the recipe; usual are ½ yd to wrap a handle, 1 to 1½ yd with a trail"
    assert said["After"] == "Long barn · stands in water; a cup 3 to 4 in across is usual"


def test_practice_is_told_in_the_units_of_the_studio() -> None:
    voice = voice_of(
        {"quantity": "3", "recipe": {"rose": "3"}, "build": TIED, "second_place": {"place": "barn"}}
    )
    shared = voice.order.priced.shared
    there = replace(shared, studio=shared.studio.model_copy(update={"language": "en-GB", "paper": "a4"}))
    order = replace(voice.order, priced=replace(voice.order.priced, shared=there))
    said = facts(all_cards(replace(voice, order=order))[0])
    assert said["To cut"] == "none in the recipe; usual are ½ m to wrap a handle, 1 to 1½ m with a trail"
    assert said["After"] == "Long barn · stands in water; a cup 8 to 10 cm across is usual"


def test_what_a_recipe_says_stands_in_place_of_practice() -> None:
    card = one_card(
        quantity="3",
        stem_length="5 in",
        build=TIED | {"shape": "round"},
        goods={"silk": "2 yd"},
        second_place={"place": "barn", "vessel": "cup"},
    )
    assert "usual" not in " ".join((card.cut, *facts(card).values()))


def test_practice_of_bouquets_is_not_told_of_other_pieces() -> None:
    card = one_card(quantity="3", build={"method": "vase-built"}, second_place={"place": "barn"})
    assert card.cut == ""
    assert facts(card) == {"Method": "Built in its vessel", "After": "Long barn"}


def test_cautions_at_the_bench_are_told_and_defer() -> None:
    card = one_card(goods={"pin": "2"}, cautions=["flame"])
    text = " ".join(card.cares)
    assert "Thorns: Garden rose. Your workplace rules" in text
    assert "Sap that can irritate: Eucalyptus." in text
    assert "Pins, wire, blades: Pins. Your workplace rules" in text
    assert "The venue and the local fire code decide" in text
    assert "cats" not in text


def test_what_the_couple_make_has_no_card() -> None:
    pieces = ({"recipe": {"rose": "1"}, "made_by": "couple"}, {"recipe": {"rose": "1"}, "piece": "Ours"})
    assert [card.title for card in all_cards(voice_of(*pieces))] == ["Ours"]
    assert cards(voice_of(pieces[0]), {}) is None


def test_what_was_chosen_is_said_and_a_picture_shown() -> None:
    card = one_card(Seen(PICTURE.picture, "Fuller · long trail"))
    assert facts(card)["Chosen"] == "Fuller · long trail"
    assert card.picture == PICTURE.picture


def with_deal(voice: OrderVoice, kept: Bag, *copies: Bag) -> OrderVoice:
    """The order with the only piece dealt so."""
    deal = Deal((), len(copies), Fraction(1, 2), Fraction(9, 10), Fraction(0))
    return replace(voice, order=replace(voice.order, sets={"p1": VariedSet(kept, copies, deal)}))


def test_a_set_with_a_deal_shows_it_copy_by_copy() -> None:
    voice = voice_of(
        {
            "quantity": "2",
            "extra": "1",
            "recipe": {"rose": "2", "gum": "2"},
            "varied": {"keep": ["rose"]},
            "wearers": ["Bea", "Cleo"],
        }
    )
    gum: tuple[Bag, ...] = ({"gum": Fraction(7, 2)}, {"gum": Fraction(5, 2)}, {})
    (card,) = all_cards(with_deal(voice, {"rose": Fraction(2)}, *gum))
    assert card.stems == ()
    assert card.matrix is not None
    assert card.matrix.copies == ("Bea", "Cleo", "spare")
    assert [(row.name, row.counts, row.same) for row in card.matrix.rows] == [
        ("Garden rose, blush", ("2", "2", "2"), True),
        ("Eucalyptus, silver", ("3½", "2½", "–"), False),
    ]
    assert [fact.text for fact in card.facts if fact.label == "Alike"] == [
        "two share 50% to 90% of their stems"
    ]


@pytest.mark.parametrize(("wearers", "size"), [(6, "large"), (7, "whole")])
def test_a_set_of_more_than_six_takes_a_page(wearers: int, size: str) -> None:
    voice = voice_of({"quantity": str(wearers), "recipe": {"rose": "2"}, "varied": {}})
    roses = ({"rose": Fraction(n)} for n in range(1, wearers + 1))
    assert [card.size for card in all_cards(with_deal(voice, {}, *roses))] == [size]


def test_a_set_that_is_all_alike_has_a_recipe_like_any_other() -> None:
    card = one_card(quantity="2", recipe={"rose": "2"}, varied={"keep": ["rose"]})
    assert card.matrix is None
    assert [stem.count for stem in card.stems] == ["2"]


def test_cards_lie_two_to_a_page_and_a_long_one_alone() -> None:
    short = {"recipe": {"rose": "1"}}
    long = {"recipe": {"rose": "1"}, "build": {"shape": "words and words " * 120}}
    made = cards(voice_of(short, short, short, long, short), {})
    assert made is not None
    assert [[card.size for card in page] for page in made.pages] == [
        ["large", "large"],
        ["large", "large"],  # the last one shares with the third, and no half stays empty
        ["whole"],
    ]
    assert [card.foot.rpartition(" · ")[2] for page in made.pages for card in page] == [
        f"card {n} of 5" for n in range(1, 6)
    ]
