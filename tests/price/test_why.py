"""Explanations add up to the price they explain, and each figure leads to its place."""

from fractions import Fraction
from typing import Any

import pytest

from sitegen.price.event import price_event
from sitegen.price.priced import PricedEvent
from sitegen.price.why import why
from sitegen.price.why_line import Line
from tests.make import choice, event, pack, shared, stem

STEMS = {
    "rose": stem("28.00", "10", loss="12.5%"),
    "ivory": stem("30.00", "12"),
    "olive": stem("11.00", "8", role="foliage"),
}
GOODS = {"silk": pack("36.00", length="25 yd"), "cup": {"name": "Cup", "hire": "4.00"}}
PIECE: dict[str, Any] = {
    "recipe": {"rose": "2/3", "olive": "0.5 bunch"},
    "goods": {"silk": "0.5 yd"},
    "minutes": "10",
    "second_place": {"place": "barn", "vessel": "cup"},
    "choices": [
        choice("full", {"id": "as"}, {"id": "more", "recipe": {"rose": "5"}, "minutes": "15", "add": "1.50"}),
        choice("colour", {"id": "as"}, {"id": "ivory", "swap": {"rose": "ivory"}}),
        choice("who", {"id": "us"}, {"id": "them", "made_by": "couple"}),
    ],
}
RULES: dict[str, Any] = {
    "markup": {"fresh": "3.5", "foliage": "2.5", "goods": "2"},
    "loss": "10%",
    "loss_in_price": "yes",
    "round": {"to": "1", "how": "up"},
    "labour": {"per_hour": "48.00"},
}


def asked(piece: dict[str, Any] = PIECE, *, swaps: Any = (), **rules: Any) -> PricedEvent:
    return price_event(
        shared(stems=STEMS, goods=GOODS, pricing={**RULES, **rules}), event(piece, swaps=swaps)
    )


def lines_of(priced: PricedEvent, *answers: int) -> dict[str, Line]:
    piece = priced.pieces[0]
    return {line.name: line for line in why(priced, piece, piece.at(answers))}


def placed(line: Line) -> list[str]:
    """Each figure of a line with the path of its file and the text that stands at its place."""
    return [
        f"{figure.text}: {figure.place.source.path} {figure.place.excerpt}" if figure.place else figure.text
        for figure in (*line.factors, *line.notes)
    ]


SWAPS = [{"from": "ivory", "to": "olive", "each": "2"}, {"from": "rose", "to": "ivory", "each": "3/2"}]


@pytest.mark.parametrize("way", [{"per_hour": "48"}, {"on_materials": "25%"}, {"of_price": "20%"}, None])
@pytest.mark.parametrize("in_price", ["yes", "no"])
@pytest.mark.parametrize("swaps", [[], SWAPS])
def test_the_lines_add_up_to_what_was_computed(way: dict[str, str] | None, in_price: str, swaps: Any) -> None:
    rules: dict[str, Any] = {"loss_in_price": in_price, **({"labour": way} if way else {})}
    priced = asked(swaps=swaps, **rules)
    for combination in priced.pieces[0].combinations:
        lines = why(priced, priced.pieces[0], combination)
        names = [line.name for line in lines]
        parts = lines[: names.index("computed")]
        assert sum((line.amount for line in parts), Fraction(0)) == combination.exact
        assert [line.name for line in lines[-3:-1]] == ["each", "cost of stems with their loss, and goods"]
        assert lines[-3].amount * 100 == combination.each
        assert lines[-1].amount == lines[-3].amount - lines[-2].amount


def test_a_stem_line_names_each_figure_and_where_it_stands() -> None:
    files = ("p1.md 2/3", "stems.yaml 28.00", "stems.yaml 12.5%", "studio.md 3.5")
    line = why(asked(), asked().pieces[0], asked().pieces[0].at((0, 0, 0)))[0]
    assert line.sum == "0.666667 × 28.00 / 10 × (1 + 12.5%) × 3.5"
    assert line.amount == Fraction(2, 3) * Fraction("2.8") * Fraction("1.125") * Fraction("3.5")
    assert [text.split(": ")[1] for text in placed(line)] == list(files)


def test_half_a_bunch_says_what_it_is_half_of() -> None:
    count = lines_of(asked(), 0, 0, 0)
    olive = [line for line in count.values() if "11.00 / 8" in line.sum]
    assert olive[0].sum == "4 × 11.00 / 8 × (1 + 10%) × 2.5"
    assert olive[0].factors[0].what == "stems in one piece: 0.5 bunch of 8"


def test_a_swapped_stem_is_priced_as_what_took_its_place() -> None:
    priced = asked(swaps=SWAPS)
    combination = priced.pieces[0].at((1, 1, 0))
    line = why(priced, priced.pieces[0], combination)[0]
    assert line.sum == "5 × 2 × 11.00 / 8 × (1 + 10%) × 2.5"
    assert [(note.text, note.what) for note in line.notes] == [
        ("ivory", "instead of rose"),
        ("olive", "stands in for ivory"),
    ]
    assert [note.place.source.path for note in line.notes if note.place] == ["p1.md", "event.md"]


def test_loss_that_is_not_in_the_price_is_a_note() -> None:
    line = why(
        asked(loss_in_price="no"), asked(loss_in_price="no").pieces[0], asked().pieces[0].at((0, 0, 0))
    )[0]
    assert line.sum == "0.666667 × 28.00 / 10 × 3.5"
    assert [note.what for note in line.notes] == ["loss allowance, in the cost alone"]


def test_goods_and_hire_and_labour_say_how_they_come_about() -> None:
    priced = asked()
    sums = [line.sum for line in why(priced, priced.pieces[0], priced.pieces[0].at((1, 0, 0)))]
    assert "0.5 yd × 36.00 / 25 yd × 2" in sums
    assert "1 × 4.00" in sums
    assert "48.00 × 15 / 60" in sums
    assert "1.50" in sums


@pytest.mark.parametrize(
    ("way", "expected"),
    [({"on_materials": "25%"}, "25% × 27.915"), ({"of_price": "20%"}, "20% / (1 − 20%) × 27.915")],
)
def test_labour_by_percent_says_of_what(way: dict[str, str], expected: str) -> None:
    # 2/3 × 2.80 × 1.125 × 3.5 + 4 × 1.375 × 1.1 × 2.5 + 0.5 × 1.44 × 2 + 4.00 = 27.915
    assert lines_of(asked(labour=way), 0, 0, 0)["Labour"].sum == expected


def test_labour_of_the_price_counts_what_answers_add() -> None:
    labour = lines_of(asked(labour={"of_price": "20%"}), 1, 0, 0)["Labour"]
    # 5 × 2.80 × 1.125 × 3.5 + 15.125 + 1.44 + 4.00 = 75.69, and 1.50
    assert labour.sum == "20% / (1 − 20%) × 77.19"
    assert [figure.what for figure in labour.factors][1] == "materials and what answers add"


def test_a_vessel_of_the_second_place_leads_to_it() -> None:
    cup = lines_of(asked(), 0, 0, 0)["Cup"]
    assert [figure.what for figure in cup.factors] == ["for its second place", "hire, not marked up"]
    assert placed(cup) == ["1: p1.md cup", "4.00: goods.yaml 4.00"]


def test_a_price_leads_to_the_offer_that_is_in_season() -> None:
    rose = stem("28.00", "10")
    rose["offers"] = [{**rose["offers"][0], "months": "Nov-Feb"}, {**rose["offers"][0], "price": "9.50"}]
    priced = price_event(shared(stems={"rose": rose}), event({"recipe": {"rose": "1"}}))
    line = why(priced, priced.pieces[0], priced.pieces[0].as_suggested)[0]
    assert placed(line)[1] == "9.50 / 10: stems.yaml 9.50"


def test_what_the_couple_make_says_so() -> None:
    labour = lines_of(asked(), 0, 0, 1)["Labour"]
    assert labour.amount == 0
    assert placed(labour) == ["no labour: p1.md couple"]


def test_rounding_and_an_own_price_are_lines_of_their_own() -> None:
    assert placed(lines_of(asked(), 0, 0, 0)["rounded"]) == ["up to 1.00: studio.md 1"]
    own = asked({**PIECE, "price": "99.00"})
    assert "rounded" not in lines_of(own, 0, 0, 0)
    assert lines_of(own, 0, 0, 0)["own price"].amount == 99
    other = lines_of(own, 1, 0, 0)
    combination = own.pieces[0].at((1, 0, 0))
    assert (
        other["own price, in proportion"].amount == 99 * combination.exact / own.pieces[0].as_suggested.exact
    )
    assert other["rounded"].amount * 100 == combination.each


def test_a_default_has_no_place() -> None:
    plain = price_event(shared(stems={"rose": stem("1")}), event({"recipe": {"rose": "1"}}))
    line = why(plain, plain.pieces[0], plain.pieces[0].as_suggested)[0]
    assert [figure.place is None for figure in (*line.factors, *line.notes)] == [False, False, False, True]
