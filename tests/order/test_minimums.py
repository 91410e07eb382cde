"""Minimums above the need, and what the florist is told of an order that could not be proven the least."""

import datetime as dt
from collections.abc import Mapping, Sequence
from dataclasses import replace
from fractions import Fraction

from sitegen.order.buy import buy
from sitegen.order.market import Lot, Purchases, Seller, Thing, Want
from sitegen.order.minimums import Task, above_need
from sitegen.order.need import Portion
from sitegen.order.order import order_of
from sitegen.price.priced import PricedEvent

ROSE, FERN, SILK = Thing("stem", "rose"), Thing("stem", "fern"), Thing("good", "silk")


def lot(thing: Thing, supplier: str, size: int, price: str) -> Lot:
    return Lot(thing, 0, supplier, Fraction(size), Fraction(price))


def test_a_minimum_that_is_reached_is_not_told() -> None:
    task = Task(
        [Want(ROSE, Fraction(25))], [lot(ROSE, "farm", 10, "20")], {"farm": Seller(minimum=Fraction(60))}
    )
    assert above_need(task, buy(task.wants, task.lots, task.sellers), buy) == ()


def test_only_what_the_minimum_makes_one_buy_is_told_and_what_else_there_is() -> None:
    # 3 roses are one bunch, 20; four are bought to reach 70, as the other grower asks 90.
    lots = [lot(ROSE, "farm", 10, "20"), replace(lot(ROSE, "barn", 5, "90"), index=1)]
    task = Task([Want(ROSE, Fraction(3))], lots, {"farm": Seller(minimum=Fraction(70)), "barn": Seller()})
    bought = buy(task.wants, task.lots, task.sellers)
    assert [(row.lot.supplier, row.packs) for row in bought.rows] == [("farm", 4)]
    (one,) = above_need(task, bought, buy)
    assert (one.supplier, int(one.saved), one.without, list(one.only_theirs)) == (
        "farm",
        60,
        Fraction(10),
        [],
    )
    assert [(row.lot.thing, row.packs) for row in one.extra] == [(ROSE, 3)]


def test_who_alone_sells_something_is_named() -> None:
    lots = [lot(ROSE, "farm", 10, "20"), lot(FERN, "farm", 5, "6")]
    task = Task(
        [Want(ROSE, Fraction(1)), Want(FERN, Fraction(1))], lots, {"farm": Seller(minimum=Fraction(40))}
    )
    (one,) = above_need(task, buy(task.wants, task.lots, task.sellers), buy)
    assert (one.without, one.only_theirs) == (None, (ROSE, FERN))


def test_a_roll_that_only_reaches_the_minimum_is_told() -> None:
    want = Want(SILK, Fraction(6), (Fraction(3), Fraction(3)))
    task = Task([want], [lot(SILK, "box", 5, "9")], {"box": Seller(minimum=Fraction(25))})
    bought = buy(task.wants, task.lots, task.sellers)
    assert [row.packs for row in bought.rows] == [3]  # two cuts of 3 take two rolls of 5; the third is for 25
    (one,) = above_need(task, bought, buy)
    assert [row.packs for row in one.extra] == [1]


def test_a_minimum_above_all_that_is_needed_is_told_though_nothing_is_bought_there(
    millrace: PricedEvent, portions: Sequence[Portion]
) -> None:
    grower = millrace.shared.suppliers["long-acre"]
    for minimum, told in (("80", 0), ("9000", 1)):
        suppliers = {
            **millrace.shared.suppliers,
            "long-acre": grower.model_copy(update={"minimum": Fraction(minimum)}),
        }
        priced = replace(millrace, shared=replace(millrace.shared, suppliers=suppliers))
        worked = order_of(priced, portions, dt.date(2031, 6, 1))
        assert "long-acre" not in worked.deliveries
        assert [one.code for one in worked.problems] == ["minimum-above"] * told
        assert all(
            "is above all that is needed, so nothing is bought there" in one.what for one in worked.problems
        )


def test_an_order_that_is_not_proven_says_by_how_much(
    millrace: PricedEvent, portions: Sequence[Portion]
) -> None:
    def unsure(wants: Sequence[Want], lots: Sequence[Lot], sellers: Mapping[str, Seller]) -> Purchases:
        return replace(buy(wants, lots, sellers), gap=Fraction("1.50"))

    worked = order_of(millrace, portions, dt.date(2031, 6, 1), buyer=unsure)
    (problem,) = worked.problems
    assert (problem.code, problem.severity) == ("order-unproven", "warning")
    assert "1.50 less" in problem.why
    assert worked.gap == Fraction("1.50")
