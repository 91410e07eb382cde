"""Which sketches there are, and what each says to who cannot see it."""

from dataclasses import replace
from fractions import Fraction
from typing import Any

import pytest
from bs4 import BeautifulSoup

from sitegen.order.sets import VariedSet
from sitegen.pictures.plan import Look
from sitegen.pictures.sketch.plan import SIZES
from sitegen.price.event import price_event
from sitegen.render.pages import couple_page
from sitegen.render.proposal import couple_view
from sitegen.render.sketched import (
    Sketched,
    Sketches,
    picture_of,
    sets_to_draw,
    sketches_of,
    unpainted,
    without,
)
from sitegen.varied.asked import Asked
from sitegen.varied.deal import deal
from tests import make
from tests.render import sample

STEMS = {
    "rose": make.stem("2", name="Garden rose, blush", latin="Rosa", colour="#f8d3c6", bloom="3 in"),
    "wine": make.stem(
        "2", name="Ranunculus, wine", latin="Ranunculus asiaticus", role="mass", colour="#64122a"
    ),
    "olive": make.stem("1", role="foliage", name="Olive", latin="Olea europaea", colour="#8d9a7a"),
}
GOODS = {
    "silk": make.pack("9", length="25 yd") | {"name": "Silk ribbon, wine"},
    "jug": {"name": "Enamel jug, cream", "hire": "4.00", "mouth": "4 in"},
    "pins": make.pack("3", pieces="100") | {"name": "Short pins"},
}
PIECE = {"piece": "Bouquet", "recipe": {"rose": "3", "wine": "1/2", "olive": "2"}}
PHOTO = {"file": "a.jpg", "alt": "A bouquet"}


def sketches(*pieces: dict[str, Any], **studio: Any) -> Sketches:
    shared = make.shared(stems=STEMS, goods=GOODS, **studio)
    return sketches_of(price_event(shared, make.event(*pieces)), Look())


def alt(*pieces: dict[str, Any], **studio: Any) -> str:
    found = sketches(*pieces, **studio).of["p1"].piece
    assert found is not None
    return found.alt


def test_the_alternative_text_is_the_recipe_as_far_as_the_studio_shows_it() -> None:
    assert alt(PIECE) == "Sketch of Bouquet: 3 Garden rose, blush; ½ Ranunculus, wine; 2 Olive"
    named = "Sketch of Bouquet: Garden rose, blush; Ranunculus, wine; Olive"
    assert alt(PIECE, show_stems="names") == named
    assert alt(PIECE, show_stems="no") == "Sketch of Bouquet: Blush; Wine; Silver green"


@pytest.mark.parametrize(
    ("piece", "studio"),
    [
        (PIECE | {"photos": [PHOTO]}, {}),
        (PIECE | {"sketch": "no"}, {}),
        (PIECE, {"sketch": "no"}),
        (PIECE | {"sketch": "yes"}, {"sketch": "no"}),
        ({"piece": "Ribbons", "goods": {"pins": "2"}}, {}),
    ],
)
def test_no_sketch_is_made_where_none_is_wanted_or_needed(piece: dict[str, Any], studio: Any) -> None:
    found = sketches(piece, **studio)
    assert found.drawings == ()
    assert all(one.piece is None for one in found.of.values())


def test_a_photo_that_shows_only_a_direction_leaves_room_for_the_sketch() -> None:
    assert sketches(PIECE | {"photos": [PHOTO | {"kind": "inspiration"}]}).of["p1"].piece


FULL = make.choice("full", {"id": "shown", "usual": "yes"}, {"id": "more", "recipe": {"rose": "9"}})
PINS = make.choice("pins", {"id": "two", "usual": "yes"}, {"id": "six", "goods": {"pins": "6"}})
SILK = make.choice("silk", {"id": "short"}, {"id": "long", "goods": {"silk": "3 yd"}})


def test_answers_that_change_what_is_seen_are_sketched_when_asked() -> None:
    piece = PIECE | {"choices": [FULL, PINS, SILK], "goods": {"silk": "0.5 yd"}}
    assert sketches(piece).of["p1"].answers == {}
    found = sketches(piece | {"sketch": "yes"}).of["p1"].answers
    assert set(found) == {(0, 0), (0, 1), (2, 0), (2, 1)}
    assert found[0, 1].alt.startswith("Sketch of Bouquet: 9 Garden rose")


def test_an_answer_is_called_by_its_label_and_price_and_not_by_all_that_is_drawn() -> None:
    """The picture lies in the answer's label, and would else be read out before every choice (WCAG 2.4.6)."""
    piece = sample.BOUQUETS | {"sketch": "yes"}
    event = sample.priced(piece)
    view = couple_view(event, replace(sample.photos(), sketches=sketches_of(event, Look()).of))
    page = BeautifulSoup(couple_page(view, sample.theme()), "html.parser")
    drawn = page.select(".answer:has(.seen)")
    assert drawn
    for answer in drawn:
        named, seen = (answer.select_one(part) for part in ("input[aria-labelledby]", ".seen img"))
        assert named is not None
        assert seen is not None
        parts = [page.find(id=name) for name in str(named["aria-labelledby"]).split()]
        assert [part["class"] for part in parts if part] == [["name"], ["money"]]
        assert str(seen["alt"]).startswith("Sketch of ")
    assert len(page.select("fieldset .caption")) == len(page.select("fieldset:has(.seen)"))


def test_all_answers_are_drawn_at_one_scale_also_beside_a_photo() -> None:
    piece = PIECE | {"choices": [FULL], "sketch": "yes", "photos": [PHOTO]}
    made = sketches(piece)
    assert made.of["p1"].piece is None
    assert len(made.drawings) == 2
    assert {frozenset((one.brief, *one.others)) for one in made.drawings} == {
        frozenset(one.brief for one in made.drawings)
    }


def test_each_of_a_set_is_sketched_and_those_alike_once() -> None:
    shared = make.shared(stems=STEMS, goods=GOODS)
    piece = PIECE | {"quantity": "3", "varied": {}, "wearers": ["Bea", "Cleo", "Em"]}
    copies = ({"wine": Fraction(2)}, {"wine": Fraction(2)}, {"olive": Fraction(3)})
    sets = {"p1": VariedSet({"rose": Fraction(1)}, copies, deal(Asked(3, ())))}
    found = sketches_of(price_event(shared, make.event(piece)), Look(), sets)
    assert [(name, one.alt) for name, one in found.of["p1"].each] == [
        ("Bea and Cleo", "Sketch of Bouquet, Bea and Cleo: 1 Garden rose, blush; 2 Ranunculus, wine"),
        ("Em", "Sketch of Bouquet, Em: 1 Garden rose, blush; 3 Olive"),
    ]
    assert found.of["p1"].piece is None
    assert {len(one.others) for one in found.drawings} == {1}
    plain = sketches_of(price_event(shared, make.event(piece | {"sketch": "no"})), Look(), sets)
    assert plain.drawings == ()
    pictured = price_event(shared, make.event(piece | {"photos": [PHOTO]}))
    assert sketches_of(pictured, Look(), sets).of["p1"].each == found.of["p1"].each
    assert picture_of(pictured.pieces[0], {}, found.of) == found.of["p1"].each[0][1]


@pytest.mark.parametrize(
    ("recipes", "asked", "drawn"), [(1, "", 0), (12, "", 12), (13, "", 0), (13, "yes", 13)]
)
def test_a_large_set_is_drawn_when_asked_and_one_that_is_all_alike_is_not(
    recipes: int, asked: str, drawn: int
) -> None:
    shared = make.shared(stems=STEMS, goods=GOODS)
    piece = PIECE | {"quantity": "13", "varied": {}, "photos": [PHOTO]} | ({"sketch": asked} if asked else {})
    copies = tuple({"wine": Fraction(min(n, recipes) + 1)} for n in range(1, 14))
    sets = {"p1": VariedSet({"rose": Fraction(1)}, copies, deal(Asked(13, ())))}
    found = sketches_of(price_event(shared, make.event(piece)), Look(), sets)
    assert len(found.drawings) == drawn


def test_a_set_is_dealt_for_its_sketches_unless_none_is_wanted() -> None:
    shared = make.shared(stems=STEMS, goods=GOODS)
    piece = {
        "piece": "Posies",
        "quantity": "3",
        "varied": {},
        "recipe": {"rose": "1", "wine": "2", "olive": "2"},
    }

    def drawn(**more: Any) -> int:
        event = price_event(shared, make.event(piece | more))
        found = sketches_of(event, Look(), sets_to_draw(event)).of.get("p1", Sketched())
        return len(found.each)

    assert drawn() == 3
    assert drawn(photos=[PHOTO]) == 3
    assert drawn(sketch="no") == 0
    assert sets_to_draw(price_event(shared, make.event(piece | {"sketch": "no"}))) == {}


def test_a_sketch_that_fails_is_left_out_and_told() -> None:
    event = price_event(
        make.shared(stems=STEMS, goods=GOODS), make.event(PIECE, PIECE | {"recipe": {"olive": "1"}})
    )
    planned = sketches_of(event, Look())
    fewer = without(planned, planned.drawings[:1])
    assert fewer.of["p1"].piece is None
    assert fewer.of["p2"] == planned.of["p2"]
    assert fewer.drawings == planned.drawings[1:]
    assert [problem.code for problem in unpainted(event, planned, fewer)] == ["sketch-failed"]
    assert without(planned, ()) == planned


def test_the_same_recipe_has_the_same_names_and_another_colour_other_ones() -> None:
    def names(**stems: Any) -> set[str]:
        shared = make.shared(stems=STEMS | stems, goods=GOODS)
        planned = sketches_of(price_event(shared, make.event(PIECE)), Look())
        return {one.name for drawing in planned.drawings for one in drawing.renditions}

    assert names() == names(wine=STEMS["wine"] | {"name": "Another name"})
    assert names().isdisjoint(names(wine=STEMS["wine"] | {"colour": "#64122b"}))


def test_sketches_are_made_in_the_sizes_of_the_theme_and_never_enlarged() -> None:
    found = sketches_of(price_event(make.shared(stems=STEMS), make.event(PIECE)), Look((5000, 200), 150))
    picture = found.of["p1"].piece
    assert picture
    assert [max(one.width, one.height) for one in picture.renditions] == [max(SIZES["hand-tied"]), 200]
    assert max(picture.fallback.width, picture.fallback.height) == 150


@pytest.mark.parametrize(
    ("piece", "form", "vessel"),
    [
        ({}, "hand-tied", None),
        ({"group": "Dinner tables"}, "low", None),
        ({"build": {"method": "vase-built"}}, "low", None),
        ({"build": {"method": "vase-built"}, "goods": {"jug": "1"}}, "upright", "jug"),
        ({"build": {"method": "wired"}}, "boutonniere", None),
        ({"build": {"method": "garland"}, "form": "arch"}, "arch", None),
    ],
)
def test_the_form_is_the_pieces_else_from_method_vessel_and_group(
    piece: dict[str, Any], form: str, vessel: str | None
) -> None:
    found = sketches(PIECE | {"group": "Personal flowers"} | piece).drawings[0].brief
    assert (found.form, found.vessel) == (form, vessel)


def test_a_ribbon_has_the_colour_it_is_called_by_and_hangs_long_where_there_is_much() -> None:
    short, long = (
        sketches(PIECE | {"goods": {"silk": length}}).drawings[0].brief for length in ("0.5 yd", "2 yd")
    )
    assert short.ribbon == long.ribbon == "#6b1c30"
    assert (short.trail, long.trail) == (False, True)


def test_more_stems_than_can_be_drawn_are_drawn_in_proportion() -> None:
    drawn = sketches(PIECE | {"recipe": {"rose": "9000", "olive": "1000"}}).drawings[0].brief.stems
    assert [one.amount for one in drawn] == [360, 40]


def test_a_photo_of_ours_stands_for_the_piece_before_its_sketch() -> None:
    shared = make.shared(stems=STEMS)
    event = price_event(shared, make.event(PIECE))
    planned = sketches_of(event, Look())
    assert picture_of(event.pieces[0], {}, planned.of) == planned.of["p1"].piece
    assert picture_of(event.pieces[0], {}, {}) is None
