"""What holds for any amounts: splitting, rounding, bags, reading."""

from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from sitegen.price.recipe import moved
from sitegen.values.bag import Bag, add, times
from sitegen.values.length import METRES, Length, length
from sitegen.values.money import Currency, half_away, round_to, share
from sitegen.values.number import decimal_text, number
from tests.laws.drawn import amounts, bags, fractions, positive

signed = fractions(-1000, 1000, (1, 2, 3, 7, 8, 1000))
weights = st.lists(fractions(0, 100, (1, 60)), min_size=1, max_size=8).filter(any)


@given(st.integers(-(10**9), 10**9), weights)
def test_shares_add_up_and_none_is_a_unit_off(total: int, given_weights: list[Fraction]) -> None:
    parts = share(total, given_weights)
    assert sum(parts) == total
    whole = sum(given_weights)
    assert all(abs(part - total * w / whole) < 1 for part, w in zip(parts, given_weights, strict=True))


@given(st.integers(0, 10**9), weights)
def test_a_weight_of_nothing_gets_nothing_and_equal_weights_differ_by_one_at_most(
    total: int, given_weights: list[Fraction]
) -> None:
    parts = share(total, [*given_weights, given_weights[0], 0])
    assert parts[-1] == 0
    assert 0 <= parts[0] - parts[-2] <= 1, "the earlier of two equals comes first"


@given(signed)
def test_rounding_is_symmetric_and_never_more_than_half_off(value: Fraction) -> None:
    assert half_away(-value) == -half_away(value)
    assert abs(half_away(value) - value) <= Fraction(1, 2)


@given(signed, positive)
def test_rounding_up_to_a_step_never_lowers_and_stays_within_a_step(value: Fraction, step: Fraction) -> None:
    up = round_to(value, step, "up")
    assert value <= up < value + step
    assert (up / step).denominator == 1
    assert abs(round_to(value, step, "nearest") - value) <= step / 2


@given(st.integers(0, 10**12 - 1), st.sampled_from((0, 2, 3)))
def test_money_is_printed_as_it_is_read(units: int, digits: int) -> None:
    currency = Currency("XXX", digits)
    assert currency.units(number(currency.text(units))) == units


@given(st.integers(0, 10**17))
def test_a_decimal_of_six_digits_is_printed_as_it_is_read(scaled: int) -> None:
    value = Fraction(scaled, 10**6)
    assert number(decimal_text(value)) == value


@given(amounts, st.sampled_from(sorted(METRES)), st.sampled_from(sorted(METRES)))
def test_a_length_is_the_same_in_any_unit(amount: Fraction, unit: str, other: str) -> None:
    there = Length(amount, unit).to(other)
    assert there.metres == amount * METRES[unit]
    assert there.to(unit) == Length(amount, unit)


@given(st.integers(0, 10**6), st.sampled_from(sorted(METRES)))
def test_a_length_is_printed_as_it_is_read(thousandths: int, unit: str) -> None:
    one = Length(Fraction(thousandths, 1000), unit)
    assert length(str(one)) == one


@given(bags, bags, bags)
def test_bags_add_in_any_order(one: Bag, two: Bag, three: Bag) -> None:
    assert add([one, two, three]) == add([three, add([two, one])])
    assert add([one]) == one
    assert times(add([one, two]), 3) == add([times(one, 3), times(two, 3)])


names = st.sampled_from("abcdefgh")
moves = st.dictionaries(names, st.tuples(names, positive), max_size=4)


@given(bags, moves)
def test_moving_stems_changes_each_count_once(bag: Bag, given_moves: dict[str, tuple[str, Fraction]]) -> None:
    expected: dict[str, Fraction] = {}
    for stem, n in bag.items():
        to, each = given_moves.get(stem, (stem, Fraction(1)))
        expected[to] = expected.get(to, Fraction(0)) + n * each
    assert moved(bag, given_moves) == expected


@given(bags, moves)
def test_stems_that_stay_keep_their_order(bag: Bag, given_moves: dict[str, tuple[str, Fraction]]) -> None:
    staying = [stem for stem in bag if stem not in given_moves]
    assert [stem for stem in moved(bag, given_moves) if stem in staying] == staying
