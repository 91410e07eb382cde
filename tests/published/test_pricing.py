"""Worked prices that others published, each through our own pricing, under its source's own rounding.

A value that a source prints is marked "printed"; where the source shows the inputs and leaves the
result to the reader, it is marked "ours", and the arithmetic is all that is checked.
"""

from fractions import Fraction
from typing import Any

import pytest

from sitegen.choices.picks import usual_picks
from sitegen.choices.table import table
from sitegen.choices.totals import Totals, totals
from sitegen.price.event import price_event
from sitegen.price.priced import PricedEvent
from sitegen.price.why import why
from tests.make import Raw, event, pack, shared, stem


def priced(*pieces: Raw, stems: Raw | None = None, goods: Raw | None = None, **studio: Any) -> PricedEvent:
    return price_event(shared(stems=stems, goods=goods, **studio), event(*pieces))


def sums(priced: PricedEvent) -> Totals:
    prices = table(priced)
    return totals(prices, usual_picks(prices))


def each(priced: PricedEvent) -> str:
    return priced.shared.currency.text(priced.pieces[0].as_suggested.each)


def lines(priced: PricedEvent) -> dict[str, Fraction]:
    """What each line of the first piece's explanation comes to."""
    piece = priced.pieces[0]
    return {line.name: line.amount for line in why(priced, piece, piece.as_suggested)}


def test_bridal_bouquet_with_labour_on_materials() -> None:
    """Zuzu's Petals, Austin, "What it costs", http://www.zuzuspetalsaustin.com/what-it-costs.htm (printed).

    Prices a stem are retail there, so nothing is marked up; rounded to the cent.
    """
    stems = {
        "ranunculus": stem("4.88"),
        "lilac": stem("10.56"),
        "dahlia": stem("11.84"),
        "rose": stem("4.00"),
        "greenery": stem("1.60", role="foliage"),
    }
    recipe = {"ranunculus": "10", "lilac": "5", "dahlia": "7", "rose": "9", "greenery": "5"}
    goods = {"ribbon": pack("6.65", length="1 yd"), "pin": pack("0.03", pieces="1")}
    rules = {"markup": {"fresh": "1"}, "labour": {"on_materials": "25%"}}
    got = priced(
        {"recipe": recipe, "goods": {"ribbon": "1 yd", "pin": "6"}}, stems=stems, goods=goods, pricing=rules
    )
    assert sum(got.pieces[0].as_suggested.made.recipe.values()) == 36
    floral = sum(
        priced({"recipe": {name: n}}, stems=stems).pieces[0].as_suggested.each for name, n in recipe.items()
    )
    hard = priced({"goods": {"ribbon": "1 yd", "pin": "6"}}, goods=goods)
    labour = lines(got)["Labour"]
    assert (floral, each(hard), got.shared.currency.units(labour), each(got)) == (
        22848,
        "6.83",
        5883,
        "294.14",
    )


def test_dozen_roses_with_ratio_markup_and_labour() -> None:
    """NBU Flowers, "How to price bouquet", https://nbuflowers.com/blogs/blog/tagged/bouquet-price (printed)."""
    rules = {"markup": {"fresh": "3.5", "goods": "2"}, "labour": {"on_materials": "20%"}}
    stems, goods = {"rose": stem("12.00", "12")}, {"supplies": pack("6.00", pieces="1")}
    got = priced(
        {"recipe": {"rose": "12"}, "goods": {"supplies": "1"}}, stems=stems, goods=goods, pricing=rules
    )
    assert list(lines(got).values())[:3] == [42, 12, Fraction("10.80")]
    assert each(got) == "64.80"
    one = priced({"recipe": {"rose": "1"}}, stems=stems, pricing={"markup": {"fresh": "3.5"}})
    assert each(one) == "3.50"


VASE = {
    "recipe": {"carnation": "10", "leatherleaf": "10"},
    "goods": {"vase": "1", "preservative": "1"},
}


@pytest.mark.parametrize(
    ("goods_markup", "expected"),
    [
        ("2", "13.90"),  # printed
        ("3", "14.85"),  # ours: 3 : 1 on everything, result cut off in the source
    ],
)
def test_vase_with_two_classes_of_markup(goods_markup: str, expected: str) -> None:
    """Interstate Publishers, lesson B2-11 "Pricing Floral Design Work", after Biondo & Noland, Floriculture, 2000.

    https://cdn.slideserve.com/odette/terms-to-know-powerpoint-ppt-presentation
    """
    stems = {"carnation": stem("0.30"), "leatherleaf": stem("0.10", role="foliage")}
    goods = {"vase": pack("18.00", pieces="20"), "preservative": pack("0.05", pieces="1")}
    rules = {"markup": {"fresh": "3", "goods": goods_markup}}
    assert each(priced(VASE, stems=stems, goods=goods, pricing=rules)) == expected


def test_low_centrepiece_with_two_thirds_of_a_stem() -> None:
    """Sprout Flowers, 3 January 2013: materials 80 (printed); with half of them for labour 120 (ours).

    http://www.sprout-flowers.com/2013/01/cost-of-wedding-flowers-centerpieces.html
    """
    stems = {
        "magnolia": stem("15"),
        "ranunculus-large": stem("7"),
        "ranunculus-small": stem("3"),
        "lily-of-the-valley": stem("6"),
        "cosmos": stem("3"),
    }
    counts = ("2/3", "3", "3", "3", "4")
    piece = {"recipe": dict(zip(stems, counts, strict=True)), "goods": {"vase": "1"}}
    goods = {"vase": pack("10", pieces="1")}
    assert each(priced(piece, stems=stems, goods=goods)) == "80.00"
    rules = {"markup": {"fresh": "1"}, "labour": {"on_materials": "50%"}}
    assert each(priced(piece, stems=stems, goods=goods, pricing=rules)) == "120.00"


def test_labour_on_materials_and_labour_as_a_share_of_the_price_differ() -> None:
    """Sprout Flowers, 12 April 2009: 200 and 50 % of it are 300, of which labour is 33 % (printed).

    http://www.sprout-flowers.com/2009/04/cost-of-wedding-flowers-centerpieces.html
    """
    stems = {"all": stem("200")}
    on_materials = {"markup": {"fresh": "1"}, "labour": {"on_materials": "50%"}}
    got = priced({"recipe": {"all": "1"}}, stems=stems, pricing=on_materials)
    assert each(got) == "300.00"
    assert round(100 * lines(got)["Labour"] / got.pieces[0].as_suggested.exact) == 33


def test_labour_of_a_quarter_of_the_price_leaves_three_quarters() -> None:
    """J. Guggia in Florist News: 25 % of a 100.00 arrangement are 25 for labour, 75 for all else (printed).

    http://www.flowerchat.com/community/threads/find-financial-salvation-when-you-accurately-mark-up-prices.37236/
    """
    rules = {"markup": {"fresh": "1"}, "labour": {"of_price": "25%"}}
    got = priced({"recipe": {"all": "1"}}, stems={"all": stem("75")}, pricing=rules)
    assert (each(got), lines(got)["Labour"]) == ("100.00", Fraction(25))


def test_budget_worked_back_to_the_flowers() -> None:
    """Goodheart-Willcox, Principles of Floral Design, 2021, p. 191: of 50, flowers get 9 (printed).

    Labour 15, vase 10, fillers 12, profit 4; with flowers for 9 our price is the 50 it started from.
    """
    goods = {"vase": pack("10", pieces="1"), "fillers": pack("12", pieces="1")}
    profit = {"id": "profit", "ask": "?", "answers": [{"id": "yes", "label": "Profit", "add": "4"}]}
    piece = {
        "recipe": {"flowers": "1"},
        "goods": {"vase": "1", "fillers": "1"},
        "minutes": "60",
        "choices": [profit],
    }
    rules = {"markup": {"fresh": "1"}, "labour": {"per_hour": "15"}}
    assert each(priced(piece, stems={"flowers": stem("9")}, goods=goods, pricing=rules)) == "50.00"


@pytest.mark.parametrize(
    ("price", "bought", "expected"),
    [
        ("3.50", 80, "9.72"),  # printed: 280 / 0.40 = 700, / 72
        ("6.50", 800, "18.06"),  # inputs printed, result ours: 13,000 / 720 = 18.0555…
    ],
)
def test_spoilage_and_markup_on_the_selling_price(price: str, bought: int, expected: str) -> None:
    """Contemporary Mathematics for Business and Consumers, 8th ed., ISBN 9781305585447, chapter 8.

    Of all that is bought 10 % spoil; on what is sold that is one ninth more, which is how our loss is
    counted. A mark-up of 60 % of the selling price is a factor of 1 / (1 − 0.6).
    """
    rules = {"markup": {"fresh": "2.5"}, "loss": "100/9%", "loss_in_price": "yes"}
    got = priced({"recipe": {"rose": "1"}}, stems={"rose": stem(price)}, pricing=rules)
    assert each(got) == expected
    sold = Fraction(bought * 9, 10)
    assert got.pieces[0].as_suggested.exact * sold == bought * Fraction(price) / Fraction("0.4")


def test_loss_to_wilting_eats_half_the_profit() -> None:
    """GMAT Club problem 300178: 288 roses at 30 a dozen, 25 % on cost; 24 wilt, 12 go at half price (printed).

    https://gmatclub.com/forum/a-florist-buys-roses-in-bulk-to-be-sold-at-a-retail-price-of-30-per-300178.html
    """
    stems = {"rose": stem("24", "12")}
    full = {"recipe": {"rose": "1 bunch"}, "quantity": "24"}
    rules = {"markup": {"fresh": "1.25"}}
    sold = [{**full, "quantity": "21"}, {**full, "quantity": "1", "price": "15"}]
    planned, actual = priced(full, stems=stems, pricing=rules), priced(*sold, stems=stems, pricing=rules)
    cost = 24 * planned.pieces[0].as_suggested.cost * 100
    assert each(planned) == "30.00"
    profit, left = sums(planned).total - cost, sums(actual).total - cost
    assert [profit, left] == [14400, 6900]
    assert round(100 * (profit - left) / profit) == 52


UNIT_COSTS = [
    ("4.95", "100", "1", "0.05", "0.05"),  # ribbon by the roll
    ("14.60", "48", "1", "0.31", "0.30"),  # bowls by the case
    ("2.49", "20", "1", "0.13", "0.12"),  # leatherleaf by the bunch
    ("3.75", "1", "0.5", "1.88", "1.88"),  # half a bunch of pompons
    ("18.00", "36", "1", "0.50", "0.50"),  # vases
]


@pytest.mark.parametrize(("price", "bunch", "count", "up", "nearest"), UNIT_COSTS)
def test_unit_costs_rounded_up_as_a_school_teaches(
    price: str, bunch: str, count: str, up: str, nearest: str
) -> None:
    """School slides, "Pricing & Mark-up in Floral Design", http://slideplayer.com/slide/1559025/ (printed: up).

    The vases are of the Interstate lesson. Rounded to the nearest cent two of them would differ.
    """
    for how, expected in (("up", up), ("nearest", nearest)):
        rules = {"markup": {"fresh": "1"}, "round": {"to": "0.01", "how": how}}
        got = priced({"recipe": {"it": count}}, stems={"it": stem(price, bunch)}, pricing=rules)
        assert each(got) == expected


def test_half_a_cent_goes_up() -> None:
    """Florist forum, thread 11202: 0.35 by 3.5 is 1.225, printed 1.23; half to even would give 1.22.

    https://florist20.com/community/threads/how-do-you-set-your-prices.11202
    """
    got = priced(
        {"recipe": {"carnation": "1"}},
        stems={"carnation": stem("0.35")},
        pricing={"markup": {"fresh": "3.5"}},
    )
    assert got.pieces[0].as_suggested.exact == Fraction("1.225")
    assert each(got) == "1.23"


@pytest.mark.parametrize(("to", "expected"), [("0.01", "5.40"), ("1", "5.00"), ("0.50", "5.50")])
def test_friendly_prices(to: str, expected: str) -> None:
    """eHow, "How to price flowers for retail": 20 for 36.00, three times, 5.40, then 5.00 or 5.50 (printed).

    https://www.ehow.com/how_5826179_price-flowers-retail.html
    """
    rules = {"markup": {"fresh": "3"}, "round": {"to": to, "how": "nearest"}}
    assert (
        each(priced({"recipe": {"rose": "1"}}, stems={"rose": stem("36.00", "20")}, pricing=rules))
        == expected
    )


def test_bouquet_with_labour_and_tax_within_two_cents() -> None:
    """A real wedding, "How much does it cost? Bouquet 2", 16 August 2012 (total printed).

    http://blog.ownfairygodmother.com/2012/08/real-wedding-how-much-does-it-cost_16.html
    Two of its lines are not shown; what they must come to, 45.73, was worked back from the total.
    """
    stems = {
        "garden-rose": stem("7"),
        "ranunculus": stem("30", "10"),
        "tulip": stem("4.50"),
        "succulent": stem("9"),
        "phalaenopsis": stem("34"),
        "not-shown": stem("45.73"),
    }
    counts = ("15", "2 bunch", "15", "5", "3", "1")
    rules = {"markup": {"fresh": "1"}, "labour": {"on_materials": "15%"}}
    tax = {"rates": [{"label": "Sales tax", "rate": "8.25%"}]}
    piece = {"recipe": dict(zip(stems, counts, strict=True))}
    total = sums(priced(piece, stems=stems, pricing=rules, tax=tax)).total
    assert abs(total - 52936) <= 2


def test_a_wedding_at_three_times_wholesale() -> None:
    """Wildflower Academy, "Quoting for weddings": 2,000 of flowers, three times, 6,000 (printed).

    https://wildfloweracademy.co/blog/quoting-for-weddings-flowers-maths-not-emotion
    """
    got = priced({"recipe": {"all": "1"}}, stems={"all": stem("2000")}, pricing={"markup": {"fresh": "3"}})
    assert each(got) == "6000.00"


def test_poinsettia_marked_up_on_wholesale() -> None:
    """2009 State FFA Floriculture Problem Solving Test, question 1: 5.00 and 60 % of it (key: 8.00, ours)."""
    got = priced({"recipe": {"it": "1"}}, stems={"it": stem("5.00")}, pricing={"markup": {"fresh": "1.6"}})
    assert each(got) == "8.00"


@pytest.mark.parametrize(
    ("discount", "total"), [({"percent": "20%"}, 3_200_000), ({"amount": "6000"}, 3_400_000)]
)
def test_discount_in_percent_or_fixed(discount: dict[str, str], total: int) -> None:
    """The same FFA test, question 6: 40,000 with 20 % off, or with 6,000 off (key: the first saves 2,000, ours)."""
    got = sums(priced({"recipe": {"van": "1"}}, stems={"van": stem("40000")}, discount=discount))
    assert got.total == total


@pytest.mark.parametrize(
    ("carnations", "ivy", "total"),
    [(("3.00", "20"), ("1.50", "10"), 540), (("10.00", "25"), ("25.00", "50"), 4200)],
)
def test_whole_bunches_with_vat(carnations: tuple[str, str], ivy: tuple[str, str], total: int) -> None:
    """N. Bain, 10 August 2017: one buttonhole takes whole packs, with 20 % VAT £5.40 to £42.00 (printed).

    https://neilbainfloristry.wordpress.com/2017/08/10/wiring-taping-what-about-costing-floral-designs/
    """
    stems = {"carnation": stem(*carnations), "ivy": stem(*ivy, role="foliage")}
    tax = {"rates": [{"label": "VAT", "rate": "20%"}]}
    piece = {"recipe": {"carnation": "1 bunch", "ivy": "1 bunch"}}
    assert sums(priced(piece, stems=stems, currency="GBP", tax=tax)).total == total
