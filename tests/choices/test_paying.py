"""Payments once money came in: what was received stays, and the last takes up every difference."""

import doctest

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sitegen.choices import paying
from sitegen.choices.paying import payments_after

PLANNED = (30_000, 30_000, 40_000)


@pytest.mark.parametrize(
    ("received", "expected"),
    [
        (0, PLANNED),
        (30_000, PLANNED),
        (31_000, (31_000, 30_000, 39_000)),
        (61_000, (30_000, 31_000, 39_000)),
        (100_000, (30_000, 70_000, 0)),
        (250_000, (30_000, 70_000, 0)),
    ],
)
def test_what_came_in_stays(received: int, expected: tuple[int, ...]) -> None:
    assert payments_after(PLANNED, received) == expected


@given(st.lists(st.integers(0, 10**9), max_size=6), st.integers(0, 10**10))
def test_they_add_up_and_none_is_below_nothing(planned: list[int], received: int) -> None:
    found = payments_after(planned, received)
    assert (len(found), sum(found)) == (len(planned), sum(planned))
    assert all(one >= 0 for one in found)


def test_the_examples_in_the_docstring() -> None:
    assert doctest.testmod(paying) == (0, 1)
