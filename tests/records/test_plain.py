"""Frozen records to plain JSON and back: exactly, and with a word on whatever does not fit."""

import datetime as dt
import json
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sitegen.records.plain import Misfit, plain, restore
from sitegen.values.length import METRES, Length


@dataclass(frozen=True, slots=True)
class Sample:
    count: int
    flag: bool
    share: Fraction
    either: Fraction | Length
    day: dt.date
    names: tuple[str, ...]
    pairs: tuple[tuple[str, Fraction | None], ...]
    chosen: frozenset[int]
    time: dt.time | None = None
    inner: "Sample | None" = None
    note: str = ""


fractions = st.fractions(max_denominator=10**6)
lengths = st.builds(Length, fractions, st.sampled_from(sorted(METRES)))
days = st.dates() | st.datetimes() | st.datetimes(timezones=st.just(dt.UTC))
samples = st.builds(
    Sample,
    count=st.integers(),
    flag=st.booleans(),
    share=fractions,
    either=fractions | lengths,
    day=days,
    names=st.lists(st.text(), max_size=3).map(tuple),
    pairs=st.lists(st.tuples(st.text(), st.none() | fractions), max_size=3).map(tuple),
    chosen=st.frozensets(st.integers()),
    time=st.none() | st.times(),
    note=st.text(),
)


@given(samples, samples)
def test_what_was_written_is_read_back_the_same(one: Sample, other: Sample) -> None:
    whole = replace(one, inner=other)
    text = json.dumps(plain(whole))
    again = restore(Sample, json.loads(text))
    assert again == whole
    assert type(again.day) is type(whole.day)
    assert json.dumps(plain(again)) == text


GOOD = plain(
    Sample(1, flag=True, share=Fraction(2, 3), either=Length(Fraction(1, 2), "yd"), day=dt.date(2031, 5, 3),
           names=("a",), pairs=(("rose", None),), chosen=frozenset({2, 1}))
)  # fmt: skip


def test_the_plain_form_is_readable_and_leaves_defaults_out() -> None:
    assert GOOD == {
        "count": 1, "flag": True, "share": "2/3", "either": "1/2 yd", "day": "2031-05-03",
        "names": ["a"], "pairs": [["rose", None]], "chosen": [1, 2],
    }  # fmt: skip


@pytest.mark.parametrize(
    ("field", "value"),
    [
        ("count", True), ("count", 1.0), ("count", "1"), ("flag", 1), ("share", 0.5), ("share", "1/0"),
        ("share", "1e9"), ("share", " 1"), ("either", "1 mile"), ("either", "yd"), ("day", "yesterday"),
        ("day", 20310503), ("names", "a"), ("names", [1]), ("pairs", [["rose"]]), ("chosen", {}),
        ("time", "25:00"), ("inner", []), ("unheard", 1),
    ],
)  # fmt: skip
def test_what_does_not_fit_is_named(field: str, value: Any) -> None:
    with pytest.raises(Misfit, match=field):
        restore(Sample, {**GOOD, field: value})


def test_what_lacks_is_named() -> None:
    with pytest.raises(Misfit, match="share"):
        restore(Sample, {key: value for key, value in GOOD.items() if key != "share"})
    with pytest.raises(Misfit):
        restore(Sample, "sample")


def test_a_float_is_our_own_mistake() -> None:
    with pytest.raises(TypeError):
        plain(0.5)
