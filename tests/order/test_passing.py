"""What was placed for one event and is to spare serves another that is bought for with it."""

import datetime as dt
from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sitegen.model.catalogue import InHand
from sitegen.model.content import Shared
from sitegen.order.joint import joint_order
from sitegen.order.order import Order
from sitegen.order.placed import Placed, Placing
from sitegen.order.placing import placed_now, placed_together
from sitegen.order.together import Together, together
from sitegen.records.plain import plain, restore
from tests import make
from tests.make import Raw
from tests.order.test_together import (
    FRIDAY,
    MAY,
    SATURDAY,
    SUNDAY,
    add_up,
    bowls,
    ordered,
    rose,
    studio,
)

LATER = dt.date(2031, 5, 8)
SPENT = tuple[Placing, ...]


def placed(made: Order) -> SPENT:
    body = placed_now(made)
    assert body is not None
    return (*made.before.placings, Placing(MAY, restore(Placed, plain(body))))


def both_placed(made: Together) -> list[SPENT]:
    """Place all parts of an order for several, by way of the plain data of records."""
    bodies = placed_together(made)
    return [
        (
            *order.before.placings,
            *([Placing(LATER, restore(Placed, plain(bodies[i])))] if i in bodies else []),
        )
        for i, order in enumerate(made.orders)
    ]


def pulled(made: Order, stem: str) -> int:
    """How many of a stem the pull list takes for all copies of all pieces."""
    rows = ((block, row) for block in made.pulled for row in block.rows if row.stem == stem)
    return sum(row.count * (1 if block.together else block.copies) for block, row in rows)


def passed(made: Together) -> list[tuple[object, ...]]:
    return [(one.thing.id, one.giver, one.taker, one.amount, one.cost) for one in made.passed]


def shared_by(made: Together) -> list[tuple[int, list[int]]]:
    """How many packs are bought, and for whom."""
    return [(one.row.packs, [i for i in one.parts if one.parts[i].amount]) for one in made.rows]


def field(**more: Any) -> Shared:
    return studio({"rose": rose(("field", "50", "60"))}, field={"delivery": "10", **more})


def test_a_spare_bunch_is_not_bought_again() -> None:
    # 50 were bought for 20: 30 are to spare, of which the other takes its 25 and 25 / 50 of the 60 they cost.
    shared = field()
    first = placed(ordered(shared, FRIDAY, bowls(1, rose="20")))
    pieces = [bowls(1, rose="20"), bowls(1, rose="25")]
    both = [ordered(shared, FRIDAY, pieces[0], placings=first), ordered(shared, SATURDAY, pieces[1])]
    made = together(both, shared, MAY)
    assert [made.rows, made.fees, made.cost] == [(), {}, 0]
    assert passed(made) == [("rose", 0, 1, 25, 30)]
    whole = joint_order(made)
    assert [whole.cost, whole.spare, [row.packs for row in whole.rows]] == [70, {"rose": 5}, [1]]
    after = both_placed(made)
    own = [
        ordered(shared, day, one, placings=of)
        for day, one, of in zip((FRIDAY, SATURDAY), pieces, after, strict=True)
    ]
    assert [one.cost for one in own] == [40, 30]  # the delivery stays where it was paid
    assert [one.spare for one in own] == [{"rose": 5}, {"rose": 0}]
    assert [one.added for one in own] == [(), ()]
    again = together(own, shared, LATER)
    assert (again.rows, again.passed, placed_together(again)) == ((), (), {})
    united = joint_order(again)
    assert [united.cost, [(row.packs, row.amount) for row in united.rows]] == [70, [(1, 50)]]


def test_what_is_added_pays_no_second_delivery_and_no_minimum() -> None:
    shared = studio({"rose": rose(("field", "10", "20"))}, field={"delivery": "10", "minimum": "40"})
    first = placed(ordered(shared, FRIDAY, bowls(1, rose="18")))
    both = [
        ordered(shared, FRIDAY, bowls(1, rose="18"), placings=first),
        ordered(shared, SATURDAY, bowls(1, rose="9")),
    ]
    made = together(both, shared, MAY)
    assert passed(made) == [("rose", 0, 1, 2, 4)]
    assert shared_by(made) == [(1, [1])]
    assert [made.cost, dict(made.fees), made.alone] == [20, {"field": 0}, 50]
    add_up(made)


def test_what_is_to_spare_twice_is_given_once() -> None:
    shared = field()
    first = placed(ordered(shared, FRIDAY, bowls(1, rose="20")))
    three = [
        ordered(shared, FRIDAY, bowls(1, rose="20"), placings=first),
        *(ordered(shared, SATURDAY, bowls(1, rose="25")) for _ in range(2)),
    ]
    made = together(three, shared, MAY)
    assert shared_by(made) == [(1, [2])]
    assert sum(one.amount for one in made.passed) == 30
    own = [
        ordered(shared, day, bowls(1, rose=n), placings=of)
        for (day, n), of in zip(
            ((FRIDAY, "20"), (SATURDAY, "25"), (SATURDAY, "25")), both_placed(made), strict=True
        )
    ]
    assert sum(one.cost for one in own) == 70 + made.cost
    assert [one.before.cancelled for one in own] == [(), (), ()]
    assert sum(one.bought_stems["rose"] for one in own) == 100


def test_two_that_were_placed_serve_a_third() -> None:
    shared = studio({"rose": rose(("field", "10", "20"), mix="yes")}, field={"delivery": "10"})
    placings = [placed(ordered(shared, FRIDAY, bowls(1, rose="6"))) for _ in range(2)]
    three = [
        *(ordered(shared, FRIDAY, bowls(1, rose="6"), placings=of) for of in placings),
        ordered(shared, SATURDAY, bowls(1, rose="7")),
    ]
    made = together(three, shared, MAY)
    assert [made.rows, [(one.giver, one.amount) for one in made.passed]] == [(), [(0, 4), (1, 3)]]


@pytest.mark.parametrize(
    ("arrive", "day", "supplier"),
    [("2-3", SUNDAY, "field"), ("2-4", SATURDAY, "other"), ("2-4", SATURDAY, None)],
)
def test_only_what_suits_is_passed_on(arrive: str, day: str, supplier: str | None) -> None:
    """Not what comes on a day of its own, nor beside another grower's; with neither, it is."""
    stem = rose(("field", "50", "60"), ("other", "5", "1"), arrive=arrive)
    shared = studio({"rose": stem}, field={"delivers": "Wed Thu"}, other={})
    only = studio({"rose": rose(("field", "50", "60"), arrive=arrive)}, field={"delivers": "Wed Thu"})
    first = placed(ordered(only, FRIDAY, bowls(1, rose="20")))
    second = placed(ordered(shared, day, bowls(1, rose="5"))) if supplier == "other" else ()
    both = [
        ordered(shared, FRIDAY, bowls(1, rose="20"), placings=first),
        ordered(shared, day, bowls(1, rose="10"), placings=second),
    ]
    made = together(both, shared, MAY)
    assert bool(made.passed) == (supplier is None)


def test_a_few_that_are_to_spare_bind_nobody_to_a_dearer_grower() -> None:
    # Two are to spare from one who asks 20 a bunch; ten of another's cost 5, and the colours may not be mixed.
    only = studio({"rose": rose(("field", "10", "20"))}, field={})
    first = placed(ordered(only, FRIDAY, bowls(1, rose="8")))
    for mix, passes, cost in (("no", 0, 5), ("yes", 1, 5)):
        shared = studio(
            {"rose": rose(("field", "10", "20"), ("market", "10", "5"), mix=mix)}, field={}, market={}
        )
        both = [
            ordered(shared, FRIDAY, bowls(1, rose="8"), placings=first),
            ordered(shared, SATURDAY, bowls(1, rose="10")),
        ]
        made = together(both, shared, MAY)
        assert [len(made.passed), made.cost] == [passes, cost]
        assert {one.row.supplier for one in made.rows} == {"market"}


def test_what_another_takes_over_is_not_cancelled() -> None:
    shared = studio({"rose": rose(("field", "10", "20"))}, field={"delivery": "10"})
    first = placed(ordered(shared, FRIDAY, bowls(1, rose="40")))
    fewer = ordered(shared, FRIDAY, bowls(1, rose="20"), placings=first)
    assert [row.packs for row in fewer.before.cancelled] == [2]
    made = together([fewer, ordered(shared, SATURDAY, bowls(1, rose="9"))], shared, MAY)
    assert passed(made) == [("rose", 0, 1, 9, 18)]
    assert [row.packs for row in joint_order(made).before.cancelled] == [1]
    own = both_placed(made)
    after = ordered(shared, FRIDAY, bowls(1, rose="20"), placings=own[0])
    assert [after.cost, after.bought_stems, after.before.cancelled] == [52, {"rose": 21}, ()]


def test_ribbon_that_is_left_on_a_roll_is_cut_for_the_other() -> None:
    # 6 × 3 yd leave 7 yd of 25: two more cuts of 3 yd lie there, a third does not.
    shared = studio({})
    ribbon = {"goods": {"silk": "3 yd"}}
    first = placed(ordered(shared, FRIDAY, {**ribbon, "quantity": "6"}))
    for n, packs in (("2", []), ("3", [1])):
        both = [
            ordered(shared, FRIDAY, {**ribbon, "quantity": "6"}, placings=first),
            ordered(shared, SATURDAY, {**ribbon, "quantity": n}),
        ]
        made = together(both, shared, MAY)
        assert [one.row.packs for one in made.rows] == packs
        assert [(len(one.cuts), one.cost) for one in made.passed] == [(2, Fraction("8.64"))]
        own = both_placed(made)
        after = ordered(shared, SATURDAY, {**ribbon, "quantity": n}, placings=own[1])
        assert (after.added, after.before.cancelled) == ((), ())


def test_what_is_in_hand_and_counted_on_by_a_placed_order_is_not_there_again() -> None:
    shared = studio({"rose": rose(("farm", "5", "10"))})
    shared = replace(shared, stock={"rose": InHand.model_validate({"stems": "12"})})
    first = placed(ordered(shared, FRIDAY, bowls(1, rose="16")))
    both = [
        ordered(shared, FRIDAY, bowls(1, rose="16"), placings=first),
        ordered(shared, SATURDAY, bowls(1, rose="6")),
    ]
    made = together(both, shared, MAY)
    # 12 and 5 are there; 16 and 6 are wanted. The first counts on 11 of the 12, so one of them is left.
    assert [one.row.amount for one in made.rows] == [5]


def test_whole_stems_are_there_for_whoever_pulls_them() -> None:
    # Without a loss: a third and 5.9 are 6.23 in all, but one and six are pulled.
    shared = studio({"rose": rose(("farm", "1", "2"), loss="0%")})
    both = [ordered(shared, day, bowls(1, rose=n)) for day, n in ((FRIDAY, "1/3"), (SATURDAY, "5.9"))]
    made = together(both, shared, MAY)
    assert [{i: part.amount for i, part in one.parts.items()} for one in made.rows] == [{0: 1, 1: 6}]
    add_up(made)


COUNTS = st.lists(st.tuples(st.integers(0, 30), st.integers(0, 30)), min_size=3, max_size=3)


@settings(max_examples=25)
@given(
    COUNTS,
    st.sets(st.integers(0, 2), min_size=1),
    st.tuples(st.integers(1, 12), st.integers(1, 25)),
    st.sampled_from(("0", "35", "200")),
    st.sampled_from(("no", "yes")),
)
def test_what_was_placed_and_what_is_bought_cover_all_and_add_up(
    counts: Sequence[tuple[int, int]],
    before: set[int],
    bunches: tuple[int, int],
    minimum: str,
    mix: str,
) -> None:
    """Laws: whoever was placed before, all are covered, and the money of all is what was paid in all."""
    stems: Raw = {
        name: rose(("field", str(size), "7.77"), ("market", "3", "4.10"), loss="10%", mix=mix)
        for name, size in zip(("rose", "olive"), bunches, strict=True)
    }
    shared = studio(stems, field={"delivery": "9.99", "minimum": minimum}, market={"delivery": "5"})
    days = (FRIDAY, SATURDAY, SATURDAY)

    def all_of(placings: Sequence[SPENT]) -> list[Order]:
        return [
            ordered(shared, day, bowls(1, rose=str(a), olive=str(b)), placings=of)
            for day, (a, b), of in zip(days, counts, placings, strict=True)
        ]

    first: list[SPENT] = [
        placed(one) if i in before and one.added else () for i, one in enumerate(all_of(((), (), ())))
    ]
    orders = all_of(first)
    paid = sum((one.cost for one, of in zip(orders, first, strict=True) if of), Fraction(0))
    made = together(orders, shared, MAY)
    add_up(made)
    assert made.cost <= made.alone
    own = all_of(both_placed(made))
    assert [one.added for one in own] == [(), (), ()]
    assert sum(one.cost for one in own) == paid + made.cost == joint_order(made).cost
    for one in own:
        for want in one.wanted:
            assert one.bought_stems.get(want.thing.id, 0) >= want.amount - 1
        for name in one.need.stems:
            assert pulled(one, name) <= one.bought_stems.get(name, 0)


@pytest.mark.parametrize(("currency", "digits"), [("JPY", 0), ("BHD", 3)])
def test_parts_are_of_whole_units_in_any_currency(currency: str, digits: int) -> None:
    # Yen have no smaller unit, Bahraini dinars a thousand fils each: ISO 4217, 0 and 3 digits.
    price = "1000" if currency == "JPY" else "1.000"
    shared = make.shared(stems={"rose": rose(("farm", "7", price))}, currency=currency)
    needs = ((FRIDAY, "4"), (SATURDAY, "2"), (SATURDAY, "5"))
    first = placed(ordered(shared, FRIDAY, bowls(1, rose="4")))
    orders = [
        ordered(shared, day, bowls(1, rose=n), placings=first if i == 0 else ())
        for i, (day, n) in enumerate(needs)
    ]
    made = together(orders, shared, MAY)
    fresh = together([ordered(shared, day, bowls(1, rose=n)) for day, n in needs], shared, MAY)
    for one in (made, fresh):
        parts = [*(one.cost_of(i) for i in range(3)), *(passed.cost for passed in one.passed)]
        assert all((part * 10**digits).denominator == 1 for part in parts)
        assert sum(one.cost_of(i) for i in range(3)) == one.cost
    own = [
        ordered(shared, day, bowls(1, rose=n), placings=of)
        for (day, n), of in zip(needs, both_placed(made), strict=True)
    ]
    assert sum(one.cost for one in own) == orders[0].cost + made.cost


AMOUNTS = st.sampled_from(("0", "1/3", "0.5", "2/3", "1", "2.5", "7"))


@settings(max_examples=60)
@given(
    st.lists(st.tuples(st.integers(1, 9), AMOUNTS, AMOUNTS, st.integers(0, 2)), min_size=1, max_size=4),
    st.integers(0, 30),
    st.sampled_from(("0%", "3%", "12.5%")),
    st.integers(1, 12),
)
def test_never_more_is_pulled_than_was_bought_and_is_in_hand(
    pieces: Sequence[tuple[int, str, str, int]], stock: int, loss: str, bunch: int
) -> None:
    """Law: whatever the parts of stems, the extra ones and the stock; a stem in hand is no less than one."""
    stems = {name: rose(("farm", str(bunch), "3"), loss=loss) for name in ("rose", "olive")}
    shared = studio(stems)
    shared = replace(shared, stock={"rose": InHand.model_validate({"stems": str(stock)})} if stock else {})
    made = ordered(
        shared,
        SATURDAY,
        *(
            {**bowls(n, rose=one, olive=two), "extra": str(extra), "id": f"p{i}"}
            for i, (n, one, two, extra) in enumerate(pieces)
        ),
    )
    for name in made.need.stems:
        held = stock if name == "rose" else 0
        assert pulled(made, name) <= made.bought_stems.get(name, 0) + held
