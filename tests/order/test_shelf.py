"""Hire pieces counted over all events whose days overlap: worked examples, and brute force over every day."""

import datetime as dt
from dataclasses import replace

from hypothesis import given
from hypothesis import strategies as st

from sitegen.model.content import Shared
from sitegen.order.hire import hire_notes, outs_of, short_of, spans_of
from sitegen.order.shelf import Beside, Out, elsewhere, stamp
from tests.order.wedding import TODAY, order_of, shared_of


def out(pieces: int, first: int, last: int, event: str = "", good: str = "bowl") -> Out:
    return Out(good, pieces, f"2031-06-{first:02}", f"2031-06-{last:02}", event)


def test_what_others_have_out_on_the_fullest_day() -> None:
    # The first two share the 12th, the last two the 14th to 15th; all three are never out together.
    found = elsewhere(
        {
            "a": [out(5, 10, 12, "A")],
            "b": [out(4, 12, 15, "B")],
            "c": [out(7, 14, 16, "C")],
            "d": [out(9, 20, 21)],
        }
    )
    assert found == {
        "a": {"bowl": Beside(4, ("B",))},
        "b": {"bowl": Beside(7, ("C",))},
        "c": {"bowl": Beside(4, ("B",))},
        "d": {},
    }


def test_each_good_is_counted_by_itself() -> None:
    found = elsewhere({"a": [out(5, 1, 3), out(1, 1, 3, good="urn")], "b": [out(4, 3, 5, "B", good="urn")]})
    assert found["a"] == {"urn": Beside(4, ("B",))}
    assert stamp(found["a"]) == "urn 4 B"
    assert stamp({}) == ""


SPANS = st.tuples(st.integers(1, 28), st.integers(0, 6)).map(
    lambda span: (span[0], min(30, span[0] + span[1]))
)


@given(st.lists(st.tuples(st.integers(1, 9), SPANS), max_size=8))
def test_it_is_the_most_on_any_day_of_the_event(spans: list[tuple[int, tuple[int, int]]]) -> None:
    outs = {f"e{i}": [out(n, *span, event=f"e{i}")] for i, (n, span) in enumerate(spans)}
    found = elsewhere(outs)
    for i, (_, (first, last)) in enumerate(spans):
        days = [
            sum(n for j, (n, (a, b)) in enumerate(spans) if j != i and a <= day <= b)
            for day in range(first, last + 1)
        ]
        beside = found[f"e{i}"].get("bowl", Beside())
        assert beside.pieces == max(days)
        assert beside.pieces == sum(outs[name][0].pieces for name in beside.events)


def owned(**counts: int) -> Shared:
    one = shared_of()
    goods = {name: good.model_copy(update={"owned": counts.get(name)}) for name, good in one.goods.items()}
    return replace(one, goods=goods)


def test_from_when_until_when_hire_pieces_are_out() -> None:
    # Bowls and jars are built into on Friday; cups only wait at the barn; the frame is built on site. The barn is
    # clear on Sunday at 00:45, the garden on Saturday.
    spans = {good: (a.day, b.day) for good, (a, b) in spans_of(order_of()).items()}
    assert spans == {"cup": (14, 15), "frame": (14, 14), "jar": (13, 15), "bowl": (13, 15)}
    back = spans_of(order_of(hire_back="2031-06-17 12:00"))
    assert {last.day for _, last in back.values()} == {17}


def test_only_goods_whose_number_is_known_and_events_that_take_place_are_counted() -> None:
    told = outs_of(order_of(shared=owned(bowl=9, cup=4)))
    assert [(one.good, one.pieces, one.event) for one in told] == [
        ("cup", 5, "A test"),
        ("bowl", 9, "A test"),
    ]
    assert outs_of(order_of(shared=owned(bowl=9), closed="cancelled")) == ()


def test_who_has_too_few_is_told_once_for_each_good() -> None:
    order = order_of(shared=owned(bowl=9, cup=4))
    assert short_of(order, {}) == ("cup",)
    (problem,) = hire_notes(order, {}, TODAY)
    assert (problem.code, problem.what) == (
        "hire-short", "5 of cup are out from 2031-06-14 to 2031-06-15, and 4 are owned"
    )  # fmt: skip
    both = hire_notes(order, {"bowl": Beside(1, ("B",))}, TODAY)
    assert [one.what for one in both][1] == (
        "9 of bowl are out from 2031-06-13 to 2031-06-15 and 1 at the same time at B, and 9 are owned"
    )
    assert hire_notes(order, {}, dt.date(2031, 6, 15)) == ()
