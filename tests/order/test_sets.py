"""Varied sets in an order: what is dealt, what is pulled, and that nothing of it changes what is bought."""

import datetime as dt
from dataclasses import replace
from fractions import Fraction
from itertools import combinations
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from sitegen.choices.picks import Pick, Picks, usual_picks
from sitegen.choices.table import table
from sitegen.order.copies import copies_of
from sitegen.order.order import Order, order
from sitegen.order.pull import Block, Row
from sitegen.order.pull_figures import pull_figures
from sitegen.price.event import price_event
from sitegen.price.priced import PricedEvent
from tests import make

STEMS = {
    "rose": make.stem("20.00", "10", loss="10%"),
    "tulip": make.stem("8.00", "10"),
    "lily": make.stem("30.00", "10"),
    "olive": make.stem("9.00", "10", role="foliage"),
    "ivy": make.stem("6.00", "10", role="foliage"),
}
SET: dict[str, Any] = {
    "id": "bouquets",
    "quantity": "5",
    "recipe": {"rose": "3", "tulip": "2", "lily": "1", "olive": "2", "ivy": "2"},
    "varied": {"keep": ["rose"], "alike": "0.6"},
}


def priced_of(*pieces: dict[str, Any], event: dict[str, Any] | None = None, **studio: Any) -> PricedEvent:
    return price_event(make.shared(stems=STEMS, **studio), make.event(*pieces, **(event or {})))


def order_of(priced: PricedEvent, *answers: int) -> Order:
    picks = usual_picks(table(priced))
    if answers:
        first = picks.pieces[0]
        picks = replace(picks, pieces=(Pick(answers, first.quantity), *picks.pieces[1:]))
    return order(priced, picks, dt.date(2031, 5, 1))


def plain(made: Order) -> Order:
    """The same order with no varied set in it."""
    pieces = tuple(
        replace(one, file=replace(one.file, piece=one.file.piece.model_copy(update={"varied": None})))
        for one in made.priced.pieces
    )
    event = replace(made.priced, pieces=pieces)
    return order(event, usual_picks(table(event)), dt.date(2031, 5, 1))


def pulled(blocks: tuple[Block, ...], stem: str) -> int:
    return sum(
        row.count * (1 if block.together else block.copies)
        for block in blocks
        for row in block.rows
        if row.stem == stem
    )


def test_each_copy_has_its_own_recipe_and_the_kept_stems_are_the_same() -> None:
    made = order_of(priced_of(SET))
    copies = copies_of(made, "bouquets")
    assert [one.stems["rose"] for one in copies] == [3] * 5
    assert len({tuple(one.stems.items()) for one in copies}) == 5
    assert {sum(one.stems.values()) for one in copies} == {10}
    assert len(made.pulled) == 5
    assert [(block.first, block.last, block.stems) for block in made.pulled] == [
        (n, n, 10) for n in range(1, 6)
    ]
    assert made.problems == ()


def test_extra_ones_are_dealt_too() -> None:
    made = order_of(priced_of({**SET, "extra": "1", "wearers": ["Bea", "Cleo", "Dot", "Em", "Fay"]}))
    last = copies_of(made, "bouquets")[-1]
    assert last.spare
    assert len(made.sets["bouquets"].copies) == 6
    assert [pulled(made.pulled, stem) for stem in STEMS] == [18, 12, 6, 12, 12]


def test_versions_share_a_numbered_block() -> None:
    made = order_of(priced_of({**SET, "quantity": "6", "varied": {"versions": "2"}}))
    assert [(block.first, block.last) for block in made.pulled] == [(1, 3), (4, 6)]


def test_parts_of_a_kept_stem_are_pulled_together() -> None:
    made = order_of(priced_of({**SET, "recipe": {**SET["recipe"], "rose": "3/2"}}))
    together = made.pulled[-1]
    assert together.together
    assert together.rows == (Row("rose", 8, Fraction(3, 2)),)
    assert not any(row.stem == "rose" for block in made.pulled[:-1] for row in block.rows)


def test_two_halves_of_foliage_are_pulled_as_one() -> None:
    # Beside 8 roses that both have, 2 olive and 2 ivy: in whole stems two share 8 of 10, in halves 9.
    recipe = {"rose": "8", "olive": "1", "ivy": "1"}
    made = order_of(
        priced_of({**SET, "quantity": "2", "recipe": recipe, "varied": {"keep": ["rose"], "alike": "0.9"}})
    )
    assert [one.stems for one in copies_of(made, "bouquets")] == [
        {"rose": 8, "olive": Fraction(3, 2), "ivy": Fraction(1, 2)},
        {"rose": 8, "olive": Fraction(1, 2), "ivy": Fraction(3, 2)},
    ]
    assert made.pulled == (
        Block("bouquets", 1, 1, (Row("rose", 8), Row("olive", 1))),
        Block("bouquets", 2, 2, (Row("rose", 8), Row("ivy", 1))),
        Block(
            "bouquets",
            1,
            2,
            (Row("olive", 1, Fraction(1, 2), (1, 2)), Row("ivy", 1, Fraction(1, 2), (1, 2))),
            together=True,
        ),
    )


def test_what_stands_in_for_a_kept_stem_is_kept() -> None:
    colour = make.choice("colour", {"id": "shown", "usual": "yes"}, {"id": "soft", "swap": {"rose": "tulip"}})
    priced = priced_of({**SET, "recipe": {"rose": "3", "lily": "2", "olive": "2"}, "choices": [colour]})
    assert order_of(priced).sets["bouquets"].kept == {"rose": 3}
    assert order_of(priced, 1).sets["bouquets"].kept == {"tulip": 3}
    swapped = priced_of(SET, event={"swaps": [{"from": "rose", "to": "tulip", "each": "2"}]})
    assert order_of(swapped).sets["bouquets"].kept == {"tulip": 8}


def test_what_the_couple_make_is_dealt_and_pulled_together() -> None:
    made = order_of(priced_of({**SET, "made_by": "couple"}))
    (block,) = made.pulled
    assert block.together
    assert len({tuple(one.stems.items()) for one in copies_of(made, "bouquets")}) == 5


def test_a_set_of_one_is_no_set() -> None:
    made = order_of(priced_of({**SET, "quantity": "1"}))
    assert made.sets == {}
    assert made.problems == ()


def test_a_loss_that_no_price_shows_moves_no_stem() -> None:
    pricing = {"markup": {"fresh": "1"}, "loss": "10%", "loss_in_price": "no"}
    lossy = {name: {**stem, "loss": "40%"} if name == "tulip" else stem for name, stem in STEMS.items()}
    before = order_of(priced_of(SET, pricing=pricing))
    after = order_of(price_event(make.shared(stems=lossy, pricing=pricing), make.event(SET)))
    assert before.sets == after.sets
    assert before.need != after.need


def test_the_figures_tell_what_is_pulled_and_how_alike_the_set_is() -> None:
    made = order_of(priced_of({**SET, "quantity": "2", "varied": {"versions": "1"}}))
    assert pull_figures(made) == {
        "pull": [
            {
                "piece": "bouquets",
                "first": 1,
                "last": 2,
                "together": False,
                "stems": {"rose": 3, "tulip": 2, "lily": 1, "olive": 2, "ivy": 2},
            }
        ],
        "sets": [
            {
                "piece": "bouquets",
                "versions": 1,
                "least_alike": "1",
                "most_alike": "1",
                "spread": "0.00",
                "copies": [{"rose": "3", "tulip": "2", "lily": "1", "olive": "2", "ivy": "2"}] * 2,
            }
        ],
    }


AMOUNT = st.sampled_from(["1/3", "1/2", "1", "3/2", "2", "7/3", "3"])


@st.composite
def pieces(draw: st.DrawFn) -> list[dict[str, Any]]:
    made = []
    for i in range(draw(st.integers(1, 3))):
        recipe = draw(st.dictionaries(st.sampled_from(sorted(STEMS)), AMOUNT, min_size=1))
        keep = draw(st.lists(st.sampled_from(sorted(recipe)), unique=True, max_size=2))
        piece: dict[str, Any] = {"id": f"p{i}", "recipe": recipe, "quantity": str(draw(st.integers(1, 6)))}
        if draw(st.booleans()):
            piece["varied"] = {"keep": keep, "alike": draw(st.sampled_from(["0", "0.6", "0.9"]))}
        made.append(piece)
    return made


@given(pieces())
@settings(deadline=None, max_examples=60)
def test_a_varied_set_changes_nothing_that_is_bought_and_all_is_pulled_once(given: Any) -> None:
    made = order_of(priced_of(*given))
    same = plain(made)
    assert made.need == same.need
    assert made.cost == same.cost
    got = made.bought_stems
    for stem in made.need.stems:
        exact = sum(
            (one.made.recipe.get(stem, Fraction(0)) * one.copies for one in made.portions), Fraction(0)
        )
        assert pulled(made.pulled, stem) == pulled(same.pulled, stem) == -(-exact // 1)
        assert pulled(made.pulled, stem) <= made.need.stems[stem] <= got[stem]
    for portion in made.portions:
        copies = copies_of(made, portion.id)
        if portion.id in made.sets:
            dealt = made.sets[portion.id]
            sizes = [sum(copy.values()) for copy in dealt.copies]
            assert max(sizes) - min(sizes) <= 1
            if not dealt.deal.why:
                assert all(one.stems != other.stems for one, other in combinations(copies, 2))
        else:
            assert all(copy.stems == portion.made.recipe for copy in copies)


@given(st.lists(st.integers(1, 9999), min_size=5, max_size=5), st.sampled_from(["0%", "35%"]))
@settings(max_examples=20)
def test_no_private_price_moves_a_stem_that_a_couple_see(cents: list[int], loss: str) -> None:
    """What stems cost is told to the florist alone; a piece with a price of its own is the same for the couple."""
    costs = {
        name: {**stem, "loss": loss, "offers": [{**stem["offers"][0], "price": f"{n / 100:.2f}"}]}
        for (name, stem), n in zip(STEMS.items(), cents, strict=True)
    }
    fixed = {**SET, "price": "120.00", "minutes": "10"}
    other = price_event(make.shared(stems=costs), make.event(fixed))
    made, then = order_of(priced_of(fixed)), order_of(other)
    assert then.sets["bouquets"].copies == made.sets["bouquets"].copies
    assert then.sets["bouquets"].deal == made.sets["bouquets"].deal
    assert then.pulled == made.pulled
    dealt = [
        sum((n * Fraction(costs[name]["offers"][0]["price"]) / 10 for name, n in copy.items()), Fraction(0))
        for copy in then.sets["bouquets"].copies
    ]
    assert then.sets["bouquets"].spread == max(dealt) - min(dealt)


def test_where_the_price_counts_costs_they_are_dealt_evenly() -> None:
    dealt = order_of(priced_of(SET)).sets["bouquets"]
    assert dealt.spread == dealt.deal.spread
    rates = {name: Fraction(stem["offers"][0]["price"]) / 10 for name, stem in STEMS.items()}
    costs = [sum((n * rates[name] for name, n in copy.items()), Fraction(0)) for copy in dealt.copies]
    assert dealt.spread == max(costs) - min(costs)


def test_the_deal_follows_the_counts() -> None:
    priced = priced_of(SET)
    more = order(priced, Picks((Pick((), 7),)), dt.date(2031, 5, 1))
    assert len(more.sets["bouquets"].copies) == 7


def codes(**varied: Any) -> list[str]:
    """What is warned of a set that is so varied; at best three of its five can be near the recipe."""
    piece = {**SET, "recipe": {"rose": "3", "tulip": "3"}, "varied": varied}
    return [
        problem.code for problem in order_of(priced_of(piece)).problems if problem.code.startswith("deal")
    ]


def test_likeness_is_missed_only_where_it_is_written() -> None:
    assert codes() == ["deal-far"]
    assert codes(alike="0.6") == ["deal-alike"]
    assert codes(versions="3", alike="0") == []


def test_one_version_that_cannot_hold_the_stems_is_told_as_that() -> None:
    # 13 of one kind for five pieces: they cannot all be alike, and nothing of it is that too few differ.
    piece = {**SET, "recipe": {"rose": "3", "tulip": "2.6", "lily": "2"}, "varied": {"versions": "1"}}
    told = order_of(priced_of(piece)).problems[0]
    assert told.code == "deal-versions"
    assert told.what.startswith("one version cannot hold the stems of 5 pieces, so there are ")
