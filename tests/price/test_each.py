"""Cost, computed price and price of one piece."""

from fractions import Fraction
from typing import Any

import pytest

from sitegen.price.event import price_event
from sitegen.price.priced import Combination, PricedPiece
from tests.make import Raw, choice, event, pack, shared, stem


def priced(piece: Raw, *, stems: Raw | None = None, goods: Raw | None = None, **studio: Any) -> PricedPiece:
    return price_event(shared(stems=stems, goods=goods, **studio), event(piece)).pieces[0]


def one(piece: Raw, **more: Any) -> Combination:
    return priced(piece, **more).as_suggested


def pricing(**more: Any) -> dict[str, Any]:
    return {"markup": {"fresh": "3", "foliage": "2", "goods": "2.5"}, **more}


ROSE = {"rose": stem("12.00", "10", loss="25%"), "fern": stem("5.00", "20", role="foliage")}
SIX = {"recipe": {"rose": "6", "fern": "4"}}


def test_each_role_is_marked_up_by_its_own_factor() -> None:
    got = one(SIX, stems=ROSE, pricing=pricing())
    assert got.exact == 6 * Fraction("1.20") * 3 + 4 * Fraction("0.25") * 2


def test_loss_is_in_the_cost_always_and_in_the_price_only_where_the_studio_says_so() -> None:
    cost = 6 * Fraction("1.20") * Fraction("1.25") + 4 * Fraction("0.25") * Fraction("1.1")
    without = one(SIX, stems=ROSE, pricing=pricing(loss="10%"))
    within = one(SIX, stems=ROSE, pricing=pricing(loss="10%", loss_in_price="yes"))
    assert without.cost == within.cost == cost
    assert without.exact == 6 * Fraction("1.20") * 3 + 2
    assert within.exact == 6 * Fraction("1.20") * Fraction("1.25") * 3 + 2 * Fraction("1.1")


def test_the_first_offer_in_season_prices_the_recipe() -> None:
    offers = [
        {"supplier": "farm", "bunch": "10", "price": "9.00", "months": "Jul-Oct"},
        {"supplier": "farm", "bunch": "5", "price": "8.00", "breaks": [{"from": "2", "price": "1.00"}]},
        {"supplier": "farm", "bunch": "5", "price": "1.00"},
    ]
    got = one({"recipe": {"rose": "1"}}, stems={"rose": {**stem("1"), "offers": offers}})
    assert got.exact == Fraction(8, 5)


def test_goods_cost_by_the_length_or_piece_of_their_first_pack_without_their_own_loss() -> None:
    silk = {**pack("36.00", length="25 yd"), "loss": "5%"}
    silk["packs"] = [*silk["packs"], {"supplier": "farm", "price": "1.00", "length": "100 yd"}]
    got = one(
        {"goods": {"silk": "18 in", "pin": "6"}}, goods={"silk": silk, "pin": pack("6.50", pieces="144")}
    )
    assert got.cost == got.exact == Fraction("0.5") * 36 / 25 + 6 * Fraction("6.50") / 144


def test_hire_is_priced_as_it_is_and_costs_nothing() -> None:
    got = one({"goods": {"bowl": "2"}}, goods={"bowl": {"name": "Bowl", "hire": "6.00"}}, pricing=pricing())
    assert got.exact == 12
    assert got.cost == 0


@pytest.mark.parametrize(
    ("labour", "expected"),
    [
        ({"per_hour": "48"}, 20 + 48 * Fraction(35, 60) + 4),
        ({"on_materials": "25%"}, 20 + 5 + 4),  # of the materials alone
        ({"of_price": "25%"}, 24 + 8),  # a quarter of 32, added money counted in
    ],
)
def test_labour_is_counted_one_of_three_ways(labour: dict[str, str], expected: Fraction) -> None:
    bow = choice("bow", {"id": "bow", "add": "4.00"})
    piece = {"recipe": {"rose": "10"}, "minutes": "35", "choices": [bow]}
    got = one(piece, stems={"rose": stem("2")}, pricing={"markup": {"fresh": "1"}, "labour": labour})
    assert got.exact == expected
    assert got.cost == 20, "labour is no cost"


def test_minutes_may_be_parts() -> None:
    rules = {"markup": {"fresh": "1"}, "labour": {"per_hour": "48"}}
    piece = {"recipe": {"rose": "2/3"}, "minutes": "12.5"}
    assert one(piece, stems={"rose": stem("3")}, pricing=rules).exact == 2 + 10


@pytest.mark.parametrize("way", [{"per_hour": "48"}, {"on_materials": "25%"}, {"of_price": "25%"}])
def test_what_the_couple_make_carries_no_labour(way: dict[str, str]) -> None:
    piece = {"recipe": {"rose": "10"}, "minutes": "35", "made_by": "couple"}
    got = one(piece, stems={"rose": stem("2")}, pricing={"markup": {"fresh": "1"}, "labour": way})
    assert got.exact == 20
    assert got.made.minutes == 35


@pytest.mark.parametrize("loss_in_price", ["yes", "no"])
@pytest.mark.parametrize("way", [{"per_hour": "48"}, {"on_materials": "25%"}, {"of_price": "25%"}])
def test_money_an_answer_takes_off_reaches_the_price_whole_but_for_labour_of_price(
    way: dict[str, str], loss_in_price: str
) -> None:
    less = choice("less", {"id": "as"}, {"id": "less", "add": "-3"})
    piece = {"recipe": {"rose": "10"}, "minutes": "30", "choices": [less]}
    stems = {"rose": stem("2", loss="10%")}
    rules = {"markup": {"fresh": "3"}, "labour": way, "loss_in_price": loss_in_price}
    got = priced(piece, stems=stems, pricing=rules)
    step = got.at((1,)).exact - got.at((0,)).exact
    assert step == (-4 if "of_price" in way else -3)


@pytest.mark.parametrize(
    ("rule", "price", "units"),
    [
        (None, "1.225", 123),
        ({"to": "1"}, "12.50", 1300),
        ({"to": "1", "how": "nearest"}, "12.49", 1200),
        ({"to": "1", "how": "up"}, "12.01", 1300),
        ({"to": "1", "how": "up"}, "12.00", 1200),
        ({"to": "5", "how": "up"}, "60.01", 6500),
        ({"to": "5", "how": "nearest"}, "62.50", 6500),
        ({"to": "0.50", "how": "nearest"}, "4.74", 450),
        ({"to": "0.50", "how": "nearest"}, "4.75", 500),
    ],
)
def test_each_is_rounded_by_the_studios_rule_or_to_the_smallest_unit(
    rule: dict[str, str] | None, price: str, units: int
) -> None:
    rules: dict[str, Any] = {"markup": {"fresh": "1"}, **({"round": rule} if rule else {})}
    assert one({"recipe": {"rose": "1"}}, stems={"rose": stem(price)}, pricing=rules).each == units


@pytest.mark.parametrize(("currency", "units"), [("JPY", 2), ("USD", 150), ("BHD", 1500)])
def test_prices_are_in_the_currencys_smallest_unit(currency: str, units: int) -> None:
    assert one({"recipe": {"rose": "1"}}, stems={"rose": stem("1.50")}, currency=currency).each == units


FULL = choice(
    "full",
    {"id": "less", "recipe": {"rose": "2"}},
    {"id": "as", "usual": "yes"},
    {"id": "more", "recipe": {"rose": "9"}},
)


def test_an_own_price_holds_at_the_usual_answers_and_others_keep_their_proportion() -> None:
    piece = {"recipe": {"rose": "6"}, "price": "99.00", "choices": [FULL]}
    rules = {"markup": {"fresh": "3"}, "round": {"to": "5", "how": "up"}}
    got = priced(piece, stems={"rose": stem("2.00")}, pricing=rules)
    assert [c.each for c in got.combinations] == [3500, 9900, 15000]  # 99 × 12/36 = 33; 99 × 54/36 = 148.50
    assert [c.exact for c in got.combinations] == [12, 36, 54]


def test_an_own_price_may_stand_on_a_computed_one_of_less_than_a_unit() -> None:
    piece = {"recipe": {"rose": "6"}, "price": "3.00", "choices": [FULL]}
    got = priced(piece, stems={"rose": stem("0.10")})
    assert [c.each for c in got.combinations] == [100, 300, 450]


def test_an_own_price_is_not_rounded_by_the_rule_but_its_like_is() -> None:
    same = choice("colour", {"id": "as"}, {"id": "other", "swap": {"rose": "ivory"}})
    stems = {"rose": stem("2.00"), "ivory": stem("2.00")}
    rules = {"markup": {"fresh": "3"}, "round": {"to": "10", "how": "nearest"}}
    got = priced({"recipe": {"rose": "6"}, "price": "99.00", "choices": [same]}, stems=stems, pricing=rules)
    assert [c.each for c in got.combinations] == [9900, 10000]


def test_where_the_usual_answers_compute_to_nothing_all_cost_the_own_price() -> None:
    piece = {
        "goods": {"bowl": "1"},
        "price": "25.00",
        "choices": [choice("bow", {"id": "no"}, {"id": "yes", "add": "3"})],
    }
    got = priced(piece, goods={"bowl": {"name": "Bowl", "hire": "0"}})
    assert [c.each for c in got.combinations] == [2500, 2500]


def test_a_piece_without_choices_has_one_combination() -> None:
    got = priced({"recipe": {"rose": "1"}}, stems=ROSE)
    assert len(got.combinations) == 1
    assert got.at(()) is got.as_suggested


def test_an_events_own_terms_replace_the_studios_whole() -> None:
    studio = shared(
        stems=ROSE,
        charges=[{"id": "delivery", "label": "Delivery", "amount": "10"}],
        payments=[{"label": "All", "rest": "yes", "due": "approval"}],
    )
    plain = price_event(studio, event(SIX)).terms
    own = price_event(studio, event(SIX, charges=[])).terms
    assert [charge.id for charge in plain.charges] == ["delivery"]
    assert own.charges == ()
    assert own.payments == plain.payments
