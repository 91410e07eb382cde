"""What was placed, and afterwards only what to add or to cancel: worked examples and laws."""

import datetime as dt
from dataclasses import replace
from fractions import Fraction
from typing import Any

from hypothesis import given
from hypothesis import strategies as st

from sitegen.choices.picks import usual_picks
from sitegen.choices.table import table
from sitegen.model.catalogue import Supplier
from sitegen.model.content import Shared
from sitegen.model.event import StandIn
from sitegen.order.figures import order_figures
from sitegen.order.order import Order, order
from sitegen.order.placed import Placed, Placing
from sitegen.order.placing import placed_now
from sitegen.price.event import price_event
from sitegen.price.standing_in import standing_in
from sitegen.records.plain import plain, restore
from tests import make
from tests.make import Raw

MAY, LATER = dt.date(2031, 5, 1), dt.date(2031, 5, 8)
FARM = Supplier.model_validate({"name": "A farm", "delivery": "10"})


def studio(stems: Raw, farm: Supplier = FARM) -> Shared:
    shared = make.shared(stems=stems, goods={"silk": make.pack("36", length="25 yd")})
    return replace(shared, suppliers={"farm": farm, "market": Supplier.model_validate({"name": "A market"})})


def bowls(recipe: dict[str, str], quantity: int = 1, **more: Any) -> dict[str, Any]:
    return {"recipe": recipe, "quantity": str(quantity), **more}


def ordered(
    shared: Shared, *pieces: dict[str, Any], placings: tuple[Placing, ...] = (), **event: Any
) -> Order:
    priced = price_event(shared, make.event(*pieces, **event))
    return order(priced, usual_picks(table(priced)), LATER if placings else MAY, placings)


def placed(made: Order, day: dt.date = MAY) -> tuple[Placing, ...]:
    """Place what *made* shows, by way of the plain data of a record."""
    body = placed_now(made)
    assert body is not None
    return (*made.before.placings, Placing(day, restore(Placed, plain(body))))


def told(made: Order) -> tuple[list[tuple[str, int]], list[tuple[str, int]]]:
    """What to add and what to cancel: things and packs."""
    return (
        [(row.thing.id, row.bought.packs) for row in made.added],
        [(row.thing.id, row.bought.packs) for row in made.before.cancelled],
    )


ROSES: Raw = {"rose": make.stem("20", "10"), "olive": make.stem("6", "5", role="foliage")}


def test_a_placed_order_asks_for_nothing_more() -> None:
    first = ordered(studio(ROSES), bowls({"rose": "7", "olive": "2"}, 3))
    assert told(first) == ([("rose", 3), ("olive", 2)], [])
    again = ordered(studio(ROSES), bowls({"rose": "7", "olive": "2"}, 3), placings=placed(first))
    assert told(again) == ([], [])
    assert placed_now(again) is None
    assert (again.cost, again.spare, dict(again.added_fees)) == (first.cost, first.spare, {})
    assert {row.placed for row in again.rows} == {MAY}
    assert not again.to_send


def test_a_market_that_moves_after_placing_moves_nothing() -> None:
    first = ordered(studio(ROSES), bowls({"rose": "7"}, 3))
    dearer = {"rose": make.stem("90", "25"), "olive": ROSES["olive"]}
    again = ordered(studio(dearer), bowls({"rose": "7"}, 3), placings=placed(first))
    assert told(again) == ([], [])
    assert again.cost == first.cost == 70  # three bunches at 20 and the delivery


def test_one_more_piece_adds_just_what_is_lacking() -> None:
    # Bought 30 roses for 21; four bowls take 28, which are there; five take 35: one bunch more, no second fee.
    first = ordered(studio(ROSES), bowls({"rose": "7"}, 3))
    assert told(ordered(studio(ROSES), bowls({"rose": "7"}, 4), placings=placed(first))) == ([], [])
    more = ordered(studio(ROSES), bowls({"rose": "7"}, 5), placings=placed(first))
    assert told(more) == ([("rose", 1)], [])
    assert (more.cost, dict(more.added_fees)) == (first.cost + 20, {"farm": Fraction(0)})
    after = placed(more, LATER)
    still = ordered(studio(ROSES), bowls({"rose": "7"}, 5), placings=after)
    assert told(still) == ([], [])
    assert [row.placed for row in still.rows] == [MAY, LATER]


def test_less_is_cancelled_in_whole_bunches_and_for_no_more_than_it_saves() -> None:
    first = ordered(studio(ROSES), bowls({"rose": "7"}, 5))
    less = ordered(studio(ROSES), bowls({"rose": "7"}, 3), placings=placed(first))
    assert told(less) == ([], [("rose", 1)])
    assert less.cost == first.cost - 20
    after = placed(less, LATER)
    assert told(ordered(studio(ROSES), bowls({"rose": "7"}, 3), placings=after)) == ([], [])
    back = ordered(studio(ROSES), bowls({"rose": "7"}, 5), placings=after)
    assert told(back) == ([("rose", 1)], [])


def test_what_nothing_needs_any_more_takes_its_delivery_back() -> None:
    first = ordered(studio(ROSES), bowls({"rose": "7"}, 5))
    none = ordered(studio(ROSES), bowls({"rose": "7"}, 0), placings=placed(first))
    assert told(none) == ([], [("rose", 4)])
    assert (none.cost, dict(none.before.waived)) == (Fraction(0), {"farm": Fraction(10)})
    body = placed(none, LATER)
    empty = ordered(studio(ROSES), bowls({"rose": "7"}, 0), placings=body)
    assert (told(empty), empty.cost, dict(empty.deliveries)) == (([], []), Fraction(0), {})


def test_a_price_that_falls_with_the_count_is_not_given_up() -> None:
    # From three bunches on they cost 10 instead of 20: two would cost 40, three cost 30.
    cheap = make.stem("20", "10")
    cheap["offers"][0]["breaks"] = [{"from": "3", "price": "10"}]
    first = ordered(studio({"rose": cheap}), bowls({"rose": "10"}, 3))
    assert told(first) == ([("rose", 3)], [])
    less = ordered(studio({"rose": cheap}), bowls({"rose": "10"}, 2), placings=placed(first))
    assert told(less) == ([], [])


def test_a_minimum_that_was_reached_is_kept() -> None:
    farm = FARM.model_copy(update={"minimum": Fraction(60)})
    first = ordered(studio(ROSES, farm), bowls({"rose": "10"}, 4))
    less = ordered(studio(ROSES, farm), bowls({"rose": "10"}, 2), placings=placed(first))
    assert told(less) == ([], [("rose", 1)])
    assert told(ordered(studio(ROSES, farm), bowls({"rose": "10"}, 0), placings=placed(first)))[1] == [
        ("rose", 4)
    ]


def test_a_stem_that_does_not_come_is_not_paid_for_and_a_minimum_that_breaks_by_it_is_told() -> None:
    """Also on the day on which it was to come, and though its supplier's minimum is not reached any more."""
    farm = FARM.model_copy(update={"minimum": Fraction(60)})
    cream = {**make.stem("9", "10"), "offers": [{"supplier": "market", "bunch": "10", "price": "9"}]}
    stems = {**ROSES, "cream": cream}
    shared, pieces = studio(stems, farm), (bowls({"rose": "10", "olive": "5"}, 3),)
    first = ordered(shared, *pieces)
    (day,) = {row.arrival.day for row in first.rows if row.arrival}
    priced = price_event(shared, make.event(*pieces))
    swap = StandIn.model_validate({"from": "rose", "to": "cream", "why": "none at market"})
    made = order(standing_in(priced, [swap]), usual_picks(table(priced)), day, placed(first))
    assert told(made) == ([("cream", 3)], [("rose", 3)])
    assert {row.thing.id for row in made.before.not_coming} == {"rose"}
    assert [made.before.to_cancel, made.spare] == [(), {"olive": 0, "cream": 0}]
    # Three bunches of olive for 18 and the delivery for 10 stay; three of cream for 27 come from elsewhere.
    assert [made.cost, dict(made.before.short), dict(made.before.waived)] == [55, {"farm": 18}, {}]
    assert [one.code for one in made.problems if one.code == "minimum-lost"] == ["minimum-lost"]
    after = order(standing_in(priced, [swap]), usual_picks(table(priced)), day, placed(made, LATER))
    assert [told(after), after.cost] == [([], []), 55]


def test_what_was_placed_and_nobody_needs_is_to_spare() -> None:
    first = ordered(studio(ROSES), bowls({"rose": "7", "olive": "2"}, 3))
    (day,) = {row.arrival.day for row in first.rows if row.arrival}
    priced = price_event(studio(ROSES), make.event(bowls({"olive": "2"}, 3)))
    none = order(priced, usual_picks(table(priced)), day, placed(first))
    assert [told(none), none.spare] == [([], []), {"olive": 4, "rose": 30}]


def test_what_has_come_is_not_cancelled() -> None:
    first = ordered(studio(ROSES), bowls({"rose": "7"}, 5))
    priced = price_event(studio(ROSES), make.event(bowls({"rose": "7"}, 3)))
    (row,) = first.rows
    assert row.arrival is not None
    made = order(priced, usual_picks(table(priced)), row.arrival.day, placed(first))
    assert told(made) == ([], [])


def test_more_of_a_stem_comes_from_its_own_grower_though_another_is_cheaper_now() -> None:
    offers = [
        {"supplier": "farm", "bunch": "10", "price": "20"},
        {"supplier": "market", "bunch": "10", "price": "5"},
    ]
    first = ordered(studio(ROSES), bowls({"rose": "7"}, 3))
    rose = {**ROSES["rose"], "offers": offers}
    for mix, who in (("no", "farm"), ("yes", "market")):
        more = ordered(
            studio({"rose": {**rose, "mix": mix}}), bowls({"rose": "7"}, 5), placings=placed(first)
        )
        assert [row.supplier for row in more.added] == [who]


def test_an_event_that_is_over_or_off_keeps_its_order() -> None:
    first = ordered(studio(ROSES), bowls({"rose": "7"}, 5))
    off = ordered(studio(ROSES), bowls({"rose": "7"}, 0), placings=placed(first), closed="cancelled")
    assert (told(off), off.cost) == (([], []), first.cost)


def test_ribbon_that_is_on_its_way_is_cut_before_more_is_bought() -> None:
    # 33 cuts of 1.5 yd need three rolls of 25 yd, 16 on each: 48 lie whole on three, the 49th on none.
    def bouquets(quantity: int, *before: Placing) -> Order:
        return ordered(studio({}), bowls({}, quantity, goods={"silk": "1.5 yd"}), placings=before)

    first = bouquets(33)
    assert told(first) == ([("silk", 3)], [])
    before = placed(first)
    assert [told(bouquets(n, *before)) for n in (32, 33, 48)] == [([], [("silk", 1)]), ([], []), ([], [])]
    assert told(bouquets(49, *before)) == ([("silk", 1)], [])


def test_a_stem_and_supplier_that_left_the_catalogue_stay_in_the_order() -> None:
    first = ordered(studio(ROSES), bowls({"rose": "7", "olive": "2"}, 3))
    offers = [{"supplier": "market", "bunch": "9", "price": "1"}]
    bare = studio({"olive": {**ROSES["olive"], "offers": offers}})
    bare = replace(bare, suppliers={"market": bare.suppliers["market"]})
    again = ordered(bare, bowls({"olive": "2"}, 3), placings=placed(first))
    shared = again.priced.shared
    assert shared.suppliers["farm"].name == "A farm"
    assert [told(again)[1], shared.stems["rose"].name] == [[("rose", 3)], "A stem"]
    figures = order_figures(again)
    assert figures["placed"] == [
        {
            "date": "2031-05-01",
            "buy": [{"stem": "olive", "supplier": "farm", "pack": "5", "packs": 2, "cost": "12.00"}],
        }
    ]
    assert figures["cancel"] == [
        {"stem": "rose", "supplier": "farm", "pack": "10", "packs": 3, "cost": "60.00"}
    ]


COUNTS = st.lists(st.tuples(st.integers(0, 6), st.integers(0, 6)), min_size=2, max_size=4)


@given(COUNTS, st.integers(0, 80), st.integers(1, 12), st.integers(1, 7), st.booleans())
def test_placed_and_added_less_cancelled_is_what_is_needed(
    counts: list[tuple[int, int]], minimum: int, bunch: int, other: int, lowers: bool
) -> None:
    """Law: after any changes the order covers the need, says nothing twice, and its money adds up."""
    farm = FARM.model_copy(update={"minimum": Fraction(minimum)})
    rose = make.stem("9", str(bunch))
    if lowers:
        rose["offers"][0]["breaks"] = [{"from": "3", "price": "7"}]
    shared = studio({"rose": rose, "olive": make.stem("5", str(other), role="foliage", loss="10%")}, farm)
    placings: tuple[Placing, ...] = ()
    spent = Fraction(0)
    for one, two in counts:
        pieces = (bowls({"rose": "5"}, one), bowls({"rose": "1", "olive": "3"}, two))
        made = ordered(shared, *pieces, placings=placings)
        for name, n in made.need.stems.items():
            assert made.bought_stems.get(name, 0) >= n
        added = sum((row.cost for row in made.added), sum(made.added_fees.values(), Fraction(0)))
        back = sum((row.cost for row in made.before.cancelled), sum(made.before.waived.values(), Fraction(0)))
        spent += added - back
        assert made.cost == spent
        if placed_now(made) is not None:
            placings = placed(made, LATER)
        again = ordered(shared, *pieces, placings=placings)
        assert told(again) == ([], []) or not placings
        assert again.cost == spent or not placings
