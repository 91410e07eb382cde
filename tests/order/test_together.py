"""Several events bought for as one: sums first, then loss, then whole bunches; and whose what is, to the cent."""

import datetime as dt
from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sitegen.choices.picks import usual_picks
from sitegen.choices.table import table
from sitegen.model.catalogue import Good, InHand, Supplier
from sitegen.model.content import Shared
from sitegen.order.buy import Thing
from sitegen.order.figures import order_figures
from sitegen.order.joint import joint_order
from sitegen.order.joint_figures import joint_figures
from sitegen.order.order import Order, order
from sitegen.order.placed import Placed, Placing
from sitegen.order.placing import placed_together
from sitegen.order.together import Together, together
from sitegen.price.event import price_event
from sitegen.records.plain import plain, restore
from tests import make
from tests.make import Raw

MAY = dt.date(2031, 5, 1)
FRIDAY, SATURDAY, SUNDAY = "2031-06-13", "2031-06-14", "2031-06-15"


def studio(stems: Raw, **suppliers: Raw) -> Shared:
    shared = make.shared(stems=stems, goods={"silk": make.pack("36", length="25 yd")})
    named = {name: Supplier.model_validate({"name": name, **one}) for name, one in suppliers.items()}
    return replace(shared, suppliers={**shared.suppliers, **named})


def rose(*offers: tuple[str, str, str], **more: Any) -> Raw:
    """A stem by its offers: supplier, stems in a bunch, price."""
    listed = [{"supplier": who, "bunch": bunch, "price": price} for who, bunch, price in offers]
    return {**make.stem("1"), "offers": listed, **more}


def ordered(shared: Shared, day: str, *pieces: Raw, placings: Sequence[Placing] = ()) -> Order:
    priced = price_event(shared, make.event(*pieces, day=day))
    return order(priced, usual_picks(table(priced)), MAY, placings)


def bowls(quantity: int, **recipe: str) -> Raw:
    return {"recipe": recipe, "quantity": str(quantity)}


def add_up(made: Together) -> None:
    """All parts are of whole cents and add up to what is bought, row by row and in all."""
    for one in made.rows:
        assert sum(part.amount for part in one.parts.values()) == one.row.amount
        assert sum(part.cost for part in one.parts.values()) == one.row.cost
    for name, fee in made.fees.items():
        assert sum(parts.get(name, Fraction(0)) for parts in made.fee_parts) == fee
    costs = [made.cost_of(i) for i in range(len(made.orders))]
    assert sum(costs) == made.cost
    assert all((100 * cost).denominator == 1 for cost in costs)


def test_needs_are_summed_before_the_loss_and_before_whole_stems() -> None:
    # Each takes 25 with 10 % loss: 27.5, so 28 alone. Together 50 are 55, not 56 (design of the trade's sums).
    shared = studio({"rose": rose(("farm", "5", "10"), loss="10%")})
    both = [ordered(shared, day, bowls(1, rose="25")) for day in (FRIDAY, SATURDAY)]
    assert [one.need.stems["rose"] for one in both] == [28, 28]
    made = together(both, shared, MAY)
    (row,) = made.rows
    assert [row.row.amount, row.row.cost, made.alone] == [55, 110, 120]
    assert {i: part.amount for i, part in row.parts.items()} == {0: 28, 1: 27}
    assert {i: part.cost for i, part in row.parts.items()} == {0: 55, 1: 55}


def test_a_fee_and_a_minimum_are_met_once_for_all() -> None:
    shared = studio({"rose": rose(("field", "10", "20"))}, field={"delivery": "10", "minimum": "30"})
    both = [ordered(shared, day, bowls(1, rose=n)) for day, n in ((FRIDAY, "5"), (SATURDAY, "10"))]
    made = together(both, shared, MAY)
    assert (int(made.cost), dict(made.fees)) == (50, {"field": Fraction(10)})
    # Two bunches are shared 5 to 10: 13.33 and 26.67; the delivery as what is whose, 3.33 and 6.67.
    assert [made.cost_of(i) for i in (0, 1)] == [Fraction("16.66"), Fraction("33.34")]
    add_up(made)


def test_only_what_suits_all_is_bought_in_one_and_the_rest_for_each() -> None:
    # Wanted two to three days before: Tue or Wed for Friday, Thu or Fri for Sunday; no day is in both.
    narrow = rose(("farm", "10", "20"), arrive="2-3")
    wide = rose(("farm", "10", "20"), arrive="2-6")
    shared = studio({"rose": narrow, "olive": wide})
    both = [ordered(shared, day, bowls(1, rose="4", olive="4")) for day in (FRIDAY, SUNDAY)]
    made = together(both, shared, MAY)
    told = [(one.row.thing.id, sorted(one.parts), one.row.arrival) for one in made.rows]
    assert [(name, takers, day.day.isoformat()) for name, takers, day in told if day] == [
        ("rose", [0], "2031-06-11"),
        ("rose", [1], "2031-06-13"),
        ("olive", [0, 1], "2031-06-11"),
    ]
    assert made.cost == 60


def test_each_buys_by_itself_where_that_is_cheaper() -> None:
    # Ten are cheapest in the small bunch, a hundred in the large one; all from one grower would cost 60.
    shared = studio({"rose": rose(("farm", "10", "10"), ("field", "100", "30"))}, field={})
    both = [ordered(shared, day, bowls(1, rose=n)) for day, n in ((FRIDAY, "10"), (SATURDAY, "100"))]
    made = together(both, shared, MAY)
    assert [made.cost, made.alone] == [40, 40]
    assert {tuple(one.parts): one.row.supplier for one in made.rows} == {(0,): "farm", (1,): "field"}


def test_ribbon_of_both_is_cut_from_the_same_roll() -> None:
    shared = studio({})
    both = [
        ordered(shared, day, {"goods": {"silk": "1.5 yd"}, "quantity": n})
        for day, n in ((FRIDAY, "3"), (SATURDAY, "6"))
    ]
    made = together(both, shared, MAY)
    (row,) = made.rows
    assert [row.row.bought.packs, made.cost, made.alone] == [1, 36, 72]
    assert [row.parts[i].cost for i in (0, 1)] == [12, 24]
    add_up(made)


def test_what_is_in_hand_is_there_once_for_the_earlier_first() -> None:
    shared = studio({"rose": rose(("farm", "5", "10"))})
    shared = replace(shared, stock={"rose": InHand.model_validate({"stems": "12"})})
    both = [ordered(shared, day, bowls(1, rose="10")) for day in (SATURDAY, FRIDAY)]
    assert [one.cost for one in both] == [0, 0]  # each counts all of it for itself
    made = together(both, shared, MAY)
    assert [one.row.amount for one in made.rows] == [10]  # 20 less 12 are 8: two bunches
    assert joint_order(made).in_hand == {Thing("stem", "rose"): Fraction(12)}


def test_what_nobody_sells_is_named_once() -> None:
    shared = studio({"rose": rose(("farm", "10", "20"))})
    both = [ordered(shared, day, bowls(1, rose="5")) for day in (FRIDAY, SATURDAY)]
    bare = replace(shared, stems={})
    made = together(both, bare, MAY)
    assert (made.missing, made.rows) == ((Thing("stem", "rose"),), ())


def test_what_was_placed_together_is_held_against_each_events_own_need() -> None:
    # 27.5 and 27.5 are 55 in all, though each alone rounds up to 28: neither asks for the one that is not there.
    shared = studio(
        {"rose": rose(("farm", "5", "10"), loss="10%"), "olive": rose(("field", "10", "7"))},
        field={"delivery": "9.99"},
    )
    pieces = [bowls(1, rose="25", olive="4"), bowls(1, rose="25")]
    both = [ordered(shared, day, one) for day, one in zip((FRIDAY, SATURDAY), pieces, strict=True)]
    made = together(both, shared, MAY)
    bodies = placed_together(made)
    first, second = ((Placing(MAY, restore(Placed, plain(bodies[i]))),) for i in (0, 1))
    assert [other.event for other in first[0].body.together] == [both[1].priced.folder.id]
    own = (
        ordered(shared, FRIDAY, pieces[0], placings=first),
        ordered(shared, SATURDAY, pieces[1], placings=second),
    )
    assert [(one.added, one.before.cancelled) for one in own] == [((), ()), ((), ())]
    assert [one.cost for one in own] == [made.cost_of(0), made.cost_of(1)]
    assert [one.spare["rose"] for one in own] == [0, 0]  # 28 of 28, and 27 of 28: never less than none
    again = together(own, shared, MAY)
    assert (again.rows, again.fees) == ((), {})
    whole = joint_order(again)
    assert (whole.cost, whole.added) == (made.cost, ())
    assert [[row.packs, row.amount, row.cost] for row in whole.before.rows] == [[11, 55, 110], [1, 10, 7]]
    more = ordered(shared, SATURDAY, bowls(1, rose="30"), placings=second)  # 33 instead of 28
    assert [(row.thing.id, row.bought.packs) for row in more.added] == [("rose", 1)]
    less = ordered(shared, FRIDAY, bowls(1, olive="4"), placings=first)  # of its 28, five whole bunches
    assert [(row.thing.id, row.bought.packs) for row in less.before.cancelled] == [("rose", 5)]
    assert less.cost + own[1].cost == made.cost - 50
    bought = order_figures(own[0])["placed"][0]["buy"]
    assert [row["packs"] for row in bought] == [6, 1]  # of 11 bunches, its 28 stems fill six


def test_the_whole_order_reads_as_one() -> None:
    shared = studio({"rose": rose(("farm", "5", "10"), loss="10%")})
    both = [ordered(shared, day, bowls(2, rose="5")) for day in (FRIDAY, SATURDAY)]
    made = together(both, shared, MAY)
    whole = joint_order(made)
    figures = joint_figures(made, whole)
    assert figures["order"]["need"] == {"rose": 22}
    assert (figures["order"]["cost"], figures["apart"]) == ("50.00", "60.00")
    assert [one["cost"] for one in figures["events"]] == ["25.00", "25.00"]
    assert [len(whole.portions), len(whole.priced.pieces)] == [2, 2]
    assert len({portion.id for portion in whole.portions}) == 2


PRICES = st.integers(1, 400).map(lambda n: f"{n / 100:.2f}")
OFFERS = st.lists(
    st.tuples(st.sampled_from(("farm", "field", "market")), st.sampled_from(("1", "5", "8", "10")), PRICES),
    min_size=1,
    max_size=3,
)
TERMS = st.fixed_dictionaries(
    {"delivery": st.sampled_from(("0", "4", "9.99")), "minimum": st.sampled_from(("0", "15"))}
)
RECIPES = st.dictionaries(
    st.sampled_from(("rose", "olive", "fern")), st.sampled_from(("1", "2.5", "7", "2/3")), min_size=1
)


@settings(max_examples=60)
@given(
    st.lists(OFFERS, min_size=3, max_size=3),
    st.lists(st.sampled_from(("2", "1-2", "3-4", "2-5")), min_size=3, max_size=3),
    st.tuples(TERMS, TERMS),
    st.lists(
        st.tuples(st.sampled_from((FRIDAY, SATURDAY, SUNDAY)), RECIPES, st.integers(1, 6)),
        min_size=2,
        max_size=3,
    ),
)
def test_together_never_costs_more_and_its_parts_add_up(
    offers: Sequence[Sequence[tuple[str, str, str]]],
    arrive: Sequence[str],
    terms: tuple[Raw, Raw],
    events: Sequence[tuple[str, Raw, int]],
) -> None:
    """Laws: never dearer than the events' own orders; every part whole cents; everybody gets what they need."""
    stems = {
        name: rose(*of, arrive=days)
        for name, of, days in zip(("rose", "olive", "fern"), offers, arrive, strict=True)
    }
    shared = studio(stems, field=terms[0], market={**terms[1], "delivers": "Tue Thu"})
    orders = [ordered(shared, day, bowls(n, **recipe)) for day, recipe, n in events]
    made = together(orders, shared, MAY)
    if not any(one.late for one in orders):
        assert made.cost <= made.alone
    add_up(made)
    for i, one in enumerate(orders):
        for want in one.wanted:
            got = sum(
                joint.parts[i].amount
                for joint in made.rows
                if i in joint.parts and joint.row.thing == want.thing
            )
            assert got >= want.amount - 1  # the whole stem that each rounds up for itself may be shared
    assert together(orders, shared, MAY) == made


@pytest.mark.parametrize("number", [1, 2])
def test_one_event_or_the_same_twice_is_bought_as_it_would_be_alone(number: int) -> None:
    shared = studio({"rose": rose(("farm", "1", "2"))})
    one = ordered(shared, SATURDAY, bowls(2, rose="5"))
    assert together([one] * number, shared, MAY).cost == number * one.cost


def test_rolls_of_one_good_may_come_from_two_suppliers() -> None:
    # Two cuts of 4 m lie whole on the 8 m of the farm, for 5; the third on 4 m of the field, for 3, and not for 5.
    # Only stems are bound to one grower.
    packs = [
        {"supplier": "farm", "length": "8 m", "price": "5"},
        {"supplier": "field", "length": "4 m", "price": "3"},
    ]
    shared = studio({}, field={})
    shared = replace(shared, goods={"silk": Good.model_validate({"name": "Silk", "packs": packs})})
    made = ordered(shared, SATURDAY, {"goods": {"silk": "4 m"}, "quantity": "3"})
    assert [(row.supplier, row.packs) for row in made.rows] == [("farm", 1), ("field", 1)]
    assert made.cost == 8
