"""The deal of a varied set: its laws, small sets against all deals there are, and what cannot be dealt."""

from dataclasses import replace
from fractions import Fraction
from itertools import combinations

import pytest
from hypothesis import given, settings

from sitegen.varied.asked import Asked, Deal, Kind
from sitegen.varied.deal import MOST_VERSIONS, deal
from tests.varied import brute
from tests.varied.drawn import sets

Rows = tuple[tuple[Fraction, ...], ...]


def asked(copies: int, totals: dict[str, int], **more: object) -> Asked:
    """A set with a stem of 1.00 for each name; the names of foliage end in "leaf"."""
    kinds = tuple(Kind(name, n, Fraction(1), name.endswith("leaf")) for name, n in totals.items())
    return replace(Asked(copies, kinds), **more)  # type: ignore[arg-type] # keywords are fields of Asked


def rows(found: Deal) -> list[list[Fraction]]:
    return [list(row) for row in found.copies]


@given(sets())
@settings(deadline=None, max_examples=60)
def test_a_deal_keeps_its_laws(one: Asked) -> None:
    found = deal(one)
    assert len(found.copies) == one.copies
    for at, kind in enumerate(one.kinds):
        given_out = [row[at] for row in found.copies]
        assert sum(given_out) == kind.total
        assert min(given_out) >= 0
        assert all(n.denominator in ({1, 2} if kind.halves else {1}) for n in given_out)
    sizes = [sum(row) for row in found.copies]
    assert max(sizes) - min(sizes) <= (1 if sum(kind.total for kind in one.kinds) % one.copies else 0)
    different = set(found.copies)
    assert len(different) == found.versions
    costs = [sum(n * kind.cost for n, kind in zip(row, one.kinds, strict=True)) for row in found.copies]
    assert max(costs) - min(costs) == found.spread
    likenesses = [brute.likeness(one, *pair) for pair in combinations(different, 2)]
    assert (min(likenesses, default=1), max(likenesses, default=1)) == (found.least, found.most)
    if not found.why:
        assert found.least >= one.alike
        wanted = min(one.versions or one.copies, one.copies)
        assert len(different) == wanted
        often = [found.copies.count(row) for row in different]
        assert max(often) - min(often) <= 1


@given(sets(most_copies=4, most_kinds=3, most_each=2))
@settings(deadline=None, max_examples=60)
def test_small_sets_are_dealt_as_well_as_they_can_be(one: Asked) -> None:
    one = replace(one, versions=None, kinds=tuple(replace(kind, halves=False) for kind in one.kinds))
    found, every = deal(one), list(brute.deals(one))
    near = [chosen for chosen in every if all(brute.is_near(one, row) for row in chosen)]
    assert (not found.why) == (bool(near) or one.copies == 1)
    assert (found.why == ("far",)) == (bool(every) and not near and one.copies > 1)
    if every:
        assert found.spread == min(brute.spread(one, chosen) for chosen in near or every)


@given(sets(most_copies=4, most_kinds=3, most_each=2))
@settings(deadline=None, max_examples=40)
def test_where_likeness_cannot_be_met_it_is_as_near_as_it_can_be(one: Asked) -> None:
    one = replace(one, versions=None, kinds=tuple(replace(kind, halves=False) for kind in one.kinds))
    found = deal(one)
    if "alike" in found.why:
        anyhow = brute.deals(replace(one, alike=Fraction(0)))
        best = max(min(brute.likeness(one, *pair) for pair in combinations(chosen, 2)) for chosen in anyhow)
        assert found.least == best < one.alike


@given(sets(most_copies=6))
@settings(deadline=None, max_examples=20)
def test_the_same_content_gets_the_same_deal(one: Asked) -> None:
    first = deal(one)
    deal.cache_clear()
    assert deal(one) == first


def test_two_share_about_half_of_what_they_may_differ_in() -> None:
    found = deal(asked(2, {"rose": 4, "tulip": 4, "lily": 2}))
    assert found.versions == 2
    assert found.spread == 0
    assert Fraction(2, 5) <= found.least <= Fraction(4, 5)


def test_costs_are_evened_out() -> None:
    # Of 2 lilies at 3.00 and 6 daisies at 1.00 each of two gets four: with a lily each both cost 6.00, but
    # are the same; a rose and a tulip at 2.00 tell them apart at no cost.
    kinds = (Kind("lily", 2, Fraction(3)), Kind("daisy", 6, Fraction(1)),
             Kind("rose", 1, Fraction(2)), Kind("tulip", 1, Fraction(2)))  # fmt: skip
    found = deal(Asked(2, kinds))
    assert found.spread == 0
    assert found.copies[0] != found.copies[1]


def test_versions_are_used_as_evenly_as_possible() -> None:
    found = deal(asked(7, {"rose": 14, "tulip": 14, "lily": 7}, versions=3))
    assert found.why == ()
    assert sorted(found.copies.count(row) for row in set(found.copies)) == [2, 2, 3]
    beside = [row for i, row in enumerate(found.copies) if not i or row != found.copies[i - 1]]
    assert len(beside) == 3  # copies of one recipe stand side by side


def test_foliage_is_halved_only_where_whole_stems_cannot_make_the_set() -> None:
    # Beside 8 that both have, two can share no stem of their 2, or 1 in halves: 8 or 9 of 10.
    two = asked(2, {"ivy-leaf": 2, "leaf": 2}, same=Fraction(8))
    assert rows(deal(replace(two, alike=Fraction(8, 10)))) == [[2, 0], [0, 2]]
    halved = deal(replace(two, alike=Fraction(9, 10)))
    assert halved.why == ()
    assert rows(halved) == [[Fraction(3, 2), Fraction(1, 2)], [Fraction(1, 2), Fraction(3, 2)]]


def test_too_great_a_likeness_is_told_and_the_nearest_deal_made() -> None:
    found = deal(asked(3, {"rose": 6, "tulip": 6, "lily": 6}, alike=Fraction(9, 10)))
    assert found.why == ("alike",)
    assert found.least == Fraction(2, 3)  # with all totals whole, two of the three share 4 of 6
    assert found.versions == 3


def test_none_strays_far_from_the_recipe() -> None:
    # Of three, four and two in each: at an unbounded deal one could have 6, 0 and 3, and another 0, 8 and 1.
    for row in rows(deal(asked(5, {"rose": 15, "tulip": 20, "lily": 10}, alike=Fraction(3, 5)))):
        assert all(
            abs(n - recipe) <= max(1, recipe * 2 / 5) for n, recipe in zip(row, (3, 4, 2), strict=True)
        )


def test_where_they_could_not_differ_otherwise_some_stray() -> None:
    # Beside 8 that all have, two need share none of the 6; but from 2 to 4 roses there are three ways only.
    found = deal(asked(5, {"rose": 15, "tulip": 15}, same=Fraction(8), alike=Fraction(4, 7)))
    assert found.why == ("far",)
    assert found.versions == 5
    assert sorted(rows(found)) == [[1, 5], [2, 4], [3, 3], [4, 2], [5, 1]]


def test_recipes_that_are_not_made_equally_often_are_dealt_all_the_same() -> None:
    found = deal(asked(5, {f"s{i}": 15 for i in range(11)}, alike=Fraction(3, 5), versions=2))
    assert found.versions == 2
    assert found.least >= Fraction(3, 5)


def test_where_there_are_too_few_different_ones_as_many_are_made_as_there_are() -> None:
    # Of two stems each there are three: two roses, one and one, two tulips.
    found = deal(asked(6, {"rose": 6, "tulip": 6}))
    assert found.why == ("few",)
    assert found.versions == 3


@pytest.mark.parametrize("totals", [{"rose": 10}, {}, {"rose": 0}])
def test_with_nothing_to_tell_them_apart_they_are_made_alike(totals: dict[str, int]) -> None:
    found = deal(asked(5, totals, same=Fraction(3)))
    assert found.why == ("few",)
    assert len(set(found.copies)) == 1
    assert found.least == found.most == 1
    assert found.spread == 0


def test_so_few_versions_may_not_hold_the_totals() -> None:
    # Each of two versions is made twice, so 5 roses cannot come out.
    found = deal(asked(4, {"rose": 5, "tulip": 7}, versions=2))
    assert found.why == ("versions",)
    assert found.versions == 3
    assert list(map(sum, zip(*found.copies, strict=True))) == [5, 7]


def test_one_version_is_all_alike() -> None:
    found = deal(asked(3, {"rose": 6, "tulip": 3}, versions=1))
    assert found.why == ()
    assert rows(found) == [[2, 1]] * 3


def test_a_set_of_one_and_of_none() -> None:
    assert rows(deal(asked(1, {"rose": 3}))) == [[3]]
    assert deal(asked(1, {"rose": 3})).why == ()
    assert deal(asked(0, {"rose": 0})).copies == ()


def test_more_than_can_be_told_apart_share_recipes() -> None:
    copies = 2 * MOST_VERSIONS + 1
    found = deal(asked(copies, {f"s{i}": copies * 2 for i in range(8)}))
    assert found.why[0] == "many"
    assert found.versions <= MOST_VERSIONS
    assert all(sum(column) == copies * 2 for column in zip(*found.copies, strict=True))
