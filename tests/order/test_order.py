"""The whole order of one event, against figures worked by hand."""

import datetime as dt
from collections.abc import Mapping, Sequence
from dataclasses import replace
from fractions import Fraction
from typing import Any

from sitegen.choices.picks import usual_picks
from sitegen.choices.table import table
from sitegen.model.catalogue import InHand
from sitegen.order.calendar import Arrival
from sitegen.order.figures import order_figures
from sitegen.order.need import Portion
from sitegen.order.order import order, order_of
from sitegen.price.priced import PricedEvent

JUNE = dt.date(2031, 6, 1)

# Worked by hand: dahlia 7 + 5 × 2/3 = 10.33, with 12.5 % 11.625, so 12 stems: 3 × 5 at 9.25 = 27.75
# against 2 × 10 at 14.50 = 29.00. Spray rose 5 + 20, with 10 % 27.5, so 28. Olive 4 + 12.5, with 10 %
# 18.15, so 19: 2 × 10 at 13.00 = 26.00 against 3 × 8 at 11.00 = 33.00.
FIGURES: dict[str, Any] = {
    "need": {"dahlia-apricot": 12, "spray-rose-ivory": 28, "olive": 19},
    "buy": [
        {"stem": "dahlia-apricot", "supplier": "river-market", "pack": "5", "packs": 3, "cost": "27.75"},
        {"stem": "spray-rose-ivory", "supplier": "river-market", "pack": "10", "packs": 3, "cost": "49.50"},
        {"stem": "olive", "supplier": "river-market", "pack": "10", "packs": 2, "cost": "26.00"},
        {"good": "silk", "supplier": "thread-box", "pack": "25 yd", "packs": 1, "cost": "36.00"},
        {"good": "pin", "supplier": "thread-box", "pack": "144", "packs": 1, "cost": "6.50"},
    ],
    "deliveries": [
        {"supplier": "river-market", "cost": "12.00"},
        {"supplier": "thread-box", "cost": "5.50"},
    ],
    "cost": "163.25",
    "spare": {"dahlia-apricot": 3, "spray-rose-ivory": 2, "olive": 1},
}


def test_figures_are_those_worked_by_hand(millrace: PricedEvent, portions: Sequence[Portion]) -> None:
    figures = order_figures(order_of(millrace, portions, JUNE))
    assert figures == FIGURES
    assert [list(figures), list(figures["need"])] == [list(FIGURES), list(FIGURES["need"])]


def test_hire_is_counted_and_not_bought(millrace: PricedEvent, portions: Sequence[Portion]) -> None:
    worked = order_of(millrace, portions, JUNE)
    assert worked.need.hire == {"bowl": 5}
    assert "bowl" not in {row.thing.id for row in worked.rows}


def with_shared(priced: PricedEvent, **parts: Mapping[str, Any]) -> PricedEvent:
    """The same event with some stems or suppliers replaced."""
    shared = priced.shared
    stems = {**shared.stems, **parts.get("stems", {})}
    suppliers = {**shared.suppliers, **parts.get("suppliers", {})}
    return replace(priced, shared=replace(shared, stems=stems, suppliers=suppliers))


def test_an_offer_that_can_no_longer_come_is_left_out(
    millrace: PricedEvent, portions: Sequence[Portion]
) -> None:
    # Long Acre's dahlias at half price, with no fee and no minimum, are the cheapest. They come on Thu 11 Sep,
    # ordered by Thu 4 Sep.
    dahlia = millrace.shared.stems["dahlia-apricot"]
    cheap = dahlia.offers[0].model_copy(update={"price": dahlia.offers[0].price / 2})
    stem = dahlia.model_copy(update={"offers": (cheap, dahlia.offers[1])})
    box = millrace.shared.suppliers["thread-box"].model_copy(update={"order_days": 0})
    acre = millrace.shared.suppliers["long-acre"].model_copy(
        update={"delivery": Fraction(0), "minimum": Fraction(0)}
    )
    suppliers = {"thread-box": box, "long-acre": acre}
    event = with_shared(millrace, stems={"dahlia-apricot": stem}, suppliers=suppliers)
    in_time, too_late = (order_of(event, portions, dt.date(2031, 9, day)) for day in (4, 5))
    assert [order.rows[0].supplier for order in (in_time, too_late)] == ["long-acre", "river-market"]
    assert in_time.rows[0].arrival == Arrival(dt.date(2031, 9, 11), dt.date(2031, 9, 4))
    assert not too_late.late


def test_where_nothing_can_come_lead_days_are_left_out_and_said(
    millrace: PricedEvent, portions: Sequence[Portion]
) -> None:
    # Ribbon comes on Tuesdays, ten days after the order: Tue 9 Sep, ordered by Sat 30 Aug.
    worked = order_of(millrace, portions, dt.date(2031, 8, 31))
    assert [thing.id for thing in worked.late] == ["silk", "pin"]
    assert order_figures(worked) == FIGURES
    (problem,) = worked.problems
    assert problem.code == "order-too-late"
    assert all(millrace.shared.goods[name].name in problem.what for name in ("silk", "pin"))
    assert not order_of(millrace, portions, dt.date(2031, 8, 30)).late


def test_a_past_event_is_ordered_without_a_word(millrace: PricedEvent, portions: Sequence[Portion]) -> None:
    worked = order_of(millrace, portions, dt.date(2032, 1, 1))
    assert order_figures(worked) == FIGURES
    assert not worked.problems


def test_an_event_is_over_on_the_day_after_it(millrace: PricedEvent, portions: Sequence[Portion]) -> None:
    day = millrace.folder.event.date
    assert order_of(millrace, portions, day).problems, "on its own day it is still to come, and late"
    assert not order_of(millrace, portions, day + dt.timedelta(days=1)).problems


def test_a_minimum_above_the_need_is_reached_and_told(
    millrace: PricedEvent, portions: Sequence[Portion]
) -> None:
    # Ribbon 36.00 and pins 6.50 are 42.50. To reach 55.00 two more boxes of pins are the least.
    box = millrace.shared.suppliers["thread-box"]
    raised = box.model_copy(update={"minimum": Fraction(55)})
    worked = order_of(with_shared(millrace, suppliers={"thread-box": raised}), portions, JUNE)
    assert {row.thing.id: row.bought.packs for row in worked.rows[3:]} == {"silk": 1, "pin": 3}
    assert worked.cost == Fraction("163.25") + 2 * Fraction("6.50")
    (problem,) = worked.problems
    assert (problem.code, problem.severity) == ("minimum-above", "warning")
    assert "the minimum of 55.00" in problem.what
    assert "× 2" in problem.what
    assert "saves 13.00" in problem.fix


def test_what_is_in_hand_is_not_bought_and_the_need_stands(
    millrace: PricedEvent, portions: Sequence[Portion]
) -> None:
    # Of 19 olive one bunch of 10 does with 9 in hand; stock that is good until the day before is none.
    stock = {
        "olive": InHand.model_validate({"stems": "9", "until": "2031-09-13"}),
        "dahlia-apricot": InHand.model_validate({"stems": "12", "until": "2031-09-12"}),
        "silk": InHand.model_validate({"length": "30 yd"}),
        "pin": InHand.model_validate({"pieces": "500"}),
    }
    event = replace(millrace, shared=replace(millrace.shared, stock=stock))
    worked = order_of(event, portions, JUNE)
    assert order_figures(worked)["need"] == FIGURES["need"]
    assert {row.thing.id: row.bought.packs for row in worked.rows} == {
        "dahlia-apricot": 3,
        "spray-rose-ivory": 3,
        "olive": 1,
    }
    assert worked.spare == {"dahlia-apricot": 3, "spray-rose-ivory": 2, "olive": 0}
    assert list(worked.deliveries) == ["river-market"]


def test_a_chosen_set_of_suppliers_is_ordered_from_alone(
    millrace: PricedEvent, portions: Sequence[Portion]
) -> None:
    whole = order_of(millrace, portions, JUNE)
    same = order_of(millrace, portions, JUNE, among=lambda lot: lot.supplier != "long-acre")
    assert order_figures(same) == order_figures(whole)
    without = order_of(millrace, portions, JUNE, among=lambda lot: lot.supplier != "river-market")
    assert "river-market" not in without.deliveries
    assert without.missing or without.cost > whole.cost


def test_a_piece_left_out_or_not_wanted_is_not_made(millrace: PricedEvent) -> None:
    picks = usual_picks(table(millrace))
    bouquet, bowls = picks.pieces
    for none in (replace(bowls, out=True), replace(bowls, quantity=0)):
        (made,) = order(millrace, replace(picks, pieces=(bouquet, none)), JUNE).portions
        assert made.id == "hand-tied"


def test_other_answers_are_ordered(millrace: PricedEvent) -> None:
    picks = usual_picks(table(millrace))
    lush = replace(picks.pieces[1], answers=(2,))
    # Spray roses 5 + 5 × 6 = 35, with 10 % 38.5; dahlias 7 + 5 × 2 = 17, with 12.5 % 19.125.
    need = order(millrace, replace(picks, pieces=(picks.pieces[0], lush)), JUNE).need
    assert need.stems == {"dahlia-apricot": 20, "spray-rose-ivory": 39, "olive": 19}


def test_nothing_picked_orders_nothing(millrace: PricedEvent) -> None:
    nothing = order_of(millrace, (), JUNE)
    assert order_figures(nothing) == {"need": {}, "buy": [], "deliveries": [], "cost": "0.00", "spare": {}}
    assert nothing.pulled == ()
