"""Buying: whole packs, price breaks, ties, and rolls on which every cut fits."""

from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction
from itertools import permutations, product

from hypothesis import given, settings
from hypothesis import strategies as st

from sitegen.order.buy import buy
from sitegen.order.market import Lot, Purchase, Purchases, Seller, Thing, Want
from sitegen.order.rolls import lay

ROSE = Thing("stem", "rose")
SILK = Thing("good", "silk")


def lot(size: int, price: str, index: int = 0, **more: int | str) -> Lot:
    breaks = ((int(more["at"]), Fraction(more["then"])),) if more else ()
    return Lot(ROSE, index, f"farm-{index}", Fraction(size), Fraction(price), breaks)


def bought(amount: int, *lots: Lot) -> Purchase:
    (row,) = buy([Want(ROSE, Fraction(amount))], lots, {}).rows
    return row


def test_whole_bunches() -> None:
    # Source: whole-number division; 63 roses with 10 % are 70 stems, so 3 bunches of 25, 12 above the bare 63.
    three = bought(70, lot(25, "20"))
    assert three.packs == 3
    assert three.amount - 63 == 12
    # 72 roses: bare 3 bunches and 3 spare, with 10 % (80 stems) 4 bunches.
    bare = bought(72, lot(25, "20"))
    assert bare.packs == 3
    assert bare.amount - 72 == 3
    assert bought(80, lot(25, "20")).packs == 4


def test_one_buttonhole_forces_whole_packs() -> None:
    """Carnations come in 20s or 25s, ivy trails in 10s or 50s; one of each is needed, with 20 % VAT.

    Source: N. Bain, "Wiring, taping: what about costing floral designs", 10 August 2017,
    https://neilbainfloristry.wordpress.com/2017/08/10/wiring-taping-what-about-costing-floral-designs/
    which prints 5.40 for the low and 42.00 for the high end.
    """
    ivy = Thing("stem", "ivy")

    def order(carnation: tuple[int, str], trail: tuple[int, str]) -> Fraction:
        lots = [
            Lot(ROSE, 0, "wholesaler", Fraction(carnation[0]), carnation[0] * Fraction(carnation[1])),
            Lot(ivy, 0, "wholesaler", Fraction(trail[0]), trail[0] * Fraction(trail[1])),
        ]
        wants = [Want(ROSE, Fraction(1)), Want(ivy, Fraction(1))]
        return buy(wants, lots, {"wholesaler": Seller()}).cost * Fraction("1.20")

    assert order((20, "0.15"), (10, "0.15")) == Fraction("5.40")
    assert order((25, "0.40"), (50, "0.50")) == Fraction("42.00")


def test_a_price_break_holds_for_every_bunch_and_is_bought_up_to_when_cheaper() -> None:
    ten = lot(10, "10", at=5, then="7")
    assert bought(50, ten).packs == 5
    assert bought(50, ten).cost == 35
    assert bought(40, ten).packs == 5
    assert bought(40, ten).cost == 35  # against 4 × 10 = 40
    assert bought(30, ten).packs == 3
    assert bought(30, ten).cost == 30


def test_ties_go_to_fewer_spare_stems_then_to_the_first() -> None:
    assert bought(10, lot(15, "10", 0), lot(10, "10", 1)).lot.index == 1
    assert bought(10, lot(10, "10", 1), lot(10, "10", 0)).lot.index == 0


def test_what_nobody_sells_is_named() -> None:
    found = buy([Want(ROSE, Fraction(3))], [], {})
    assert not found.rows
    assert found.missing == (ROSE,)
    assert found.cost == 0


def test_a_delivery_counts_once_and_in_the_suppliers_order() -> None:
    silk = Lot(SILK, 0, "farm-0", Fraction(1), Fraction(1))
    pin = Lot(Thing("good", "pin"), 0, "box", Fraction(1), Fraction(1))
    wants = [Want(pin.thing, Fraction(1)), Want(ROSE, Fraction(1)), Want(SILK, Fraction(1))]
    sellers = {"unused": Seller(Fraction(9)), "farm-0": Seller(Fraction(4)), "box": Seller(Fraction(2))}
    found = buy(wants, [silk, pin, lot(1, "1")], sellers)
    assert list(found.deliveries.items()) == [("farm-0", Fraction(4)), ("box", Fraction(2))]
    assert found.cost == 3 + 4 + 2


FERN = Thing("stem", "fern")


def at(thing: Thing, supplier: str, size: int, price: str, index: int = 0) -> Lot:
    return Lot(thing, index, supplier, Fraction(size), Fraction(price))


def said(found: Purchases) -> list[tuple[str, str, int, int]]:
    return [(row.lot.thing.id, row.lot.supplier, int(row.lot.size), row.packs) for row in found.rows]


def test_a_dearer_bunch_is_bought_where_a_fee_would_cost_more() -> None:
    wants = [Want(ROSE, Fraction(20)), Want(FERN, Fraction(10))]
    lots = [at(ROSE, "farm", 10, "20"), at(FERN, "farm", 10, "9", 1), at(FERN, "barn", 10, "6")]
    near, far = ({"farm": Seller(Fraction(5)), "barn": Seller(Fraction(fee))} for fee in (2, 4))
    assert said(buy(wants, lots, near))[1] == ("fern", "barn", 10, 1)
    assert said(buy(wants, lots, far))[1] == ("fern", "farm", 10, 1)


def test_a_minimum_is_reached_by_the_cheapest_of_moving_a_stem_and_buying_more() -> None:
    # Roses come from the farm alone, for 40; its minimum is 50. Ferns cost 6 at the barn, and 9 or 12 there.
    wants = [Want(ROSE, Fraction(20)), Want(FERN, Fraction(10))]
    sellers = {"farm": Seller(minimum=Fraction(50)), "barn": Seller()}
    roses, barn = at(ROSE, "farm", 10, "20"), at(FERN, "barn", 10, "6")
    moved = buy(wants, [roses, at(FERN, "farm", 10, "12", 1), barn], sellers)
    assert said(moved) == [("rose", "farm", 10, 2), ("fern", "farm", 10, 1)]
    assert moved.cost == 52
    # At 9 one bunch of fern is not enough: two of them, 58, cost less than a third of roses and barn's ferns, 66.
    twice = buy(wants, [roses, at(FERN, "farm", 10, "9", 1), barn], sellers)
    assert said(twice) == [("rose", "farm", 10, 2), ("fern", "farm", 10, 2)]
    # At 27 the third bunch of roses does it.
    more = buy(wants, [roses, at(FERN, "farm", 10, "27", 1), barn], sellers)
    assert said(more) == [("rose", "farm", 10, 3), ("fern", "barn", 10, 1)]


def test_a_stem_comes_from_one_supplier_unless_it_may_be_mixed() -> None:
    lots = [at(ROSE, "farm", 20, "30"), at(ROSE, "barn", 5, "9", 1)]
    one, mixed = (buy([Want(ROSE, Fraction(25), mix=mix)], lots, {}) for mix in (False, True))
    assert said(one) == [("rose", "barn", 5, 5)]
    assert said(mixed) == [("rose", "farm", 20, 1), ("rose", "barn", 5, 1)]


def test_packs_of_one_supplier_go_together() -> None:
    found = buy([Want(ROSE, Fraction(33))], [at(ROSE, "farm", 25, "40"), at(ROSE, "farm", 10, "19", 1)], {})
    assert said(found) == [("rose", "farm", 25, 1), ("rose", "farm", 10, 1)]


def test_what_is_in_hand_is_not_bought() -> None:
    lots = [at(ROSE, "farm", 10, "20")]
    assert said(buy([Want(ROSE, Fraction(21), held=Fraction(11))], lots, {})) == [("rose", "farm", 10, 1)]
    none = buy([Want(ROSE, Fraction(21), held=Fraction(21))], [], {})
    assert (none.rows, none.missing) == ((), ())


def test_a_price_break_that_would_not_reach_the_minimum_is_left() -> None:
    # Three bunches of 10 reach 30; a fourth would lower them all to 7, which makes 28, and a fifth to 35.
    brk = Lot(ROSE, 0, "farm", Fraction(10), Fraction(10), ((4, Fraction(7)),))
    found = buy([Want(ROSE, Fraction(10))], [brk], {"farm": Seller(minimum=Fraction(30))})
    assert said(found) == [("rose", "farm", 10, 3)]


def test_a_million_is_bought_as_quickly() -> None:
    # Of packs of 5 fewer than 7 are ever worth it: 7 of them hold as much as 5 packs of 7, and cost more.
    lots = [at(ROSE, "farm", 7, "7"), at(ROSE, "farm", 5, "5.01", 1)]
    found = buy([Want(ROSE, Fraction(1_000_003))], lots, {})
    of_seven = {fives: -((5 * fives - 1_000_003) // 7) for fives in range(7)}
    assert found.cost == min(7 * sevens + fives * Fraction("5.01") for fives, sevens in of_seven.items())
    assert said(found) == [("rose", "farm", 7, 142_854), ("rose", "farm", 5, 5)]
    assert found.gap == 0


def test_odd_packs_too_large_to_prove_say_how_much_less_it_could_be() -> None:
    lots = [at(ROSE, "farm", 999_983, "999983"), at(ROSE, "farm", 1_000_003, "1000002", 1)]
    found = buy([Want(ROSE, Fraction(10**9))], lots, {})
    assert sum(row.amount for row in found.rows) >= 10**9
    assert 0 < found.gap < found.cost / 100


def ribbon(cuts: list[Fraction], *rolls: tuple[int, int], held: int = 0) -> Purchases:
    lots = [Lot(SILK, i, "box", Fraction(size), Fraction(price)) for i, (size, price) in enumerate(rolls)]
    return buy([Want(SILK, sum(cuts, Fraction(0)), tuple(cuts), held=Fraction(held))], lots, {})


def counts(found: Purchases) -> dict[int, int]:
    """How many of each lot, by its place."""
    return {row.lot.index: row.packs for row in found.rows}


def test_cuts_that_do_not_fit_whole_take_one_more_roll() -> None:
    # Source: division; 33 × 1.5 yd are 49.5 yd, but a roll of 25 yd gives only 16 whole cuts: 2 × 16 < 33.
    assert counts(ribbon([Fraction(3, 2)] * 32, (25, 36))) == {0: 2}
    assert counts(ribbon([Fraction(3, 2)] * 33, (25, 36))) == {0: 3}


def test_one_more_roll_is_one_of_the_cheapest_that_does() -> None:
    # The 33rd cut needs no roll of 25 yd of its own, where there are rolls of 5 yd.
    assert counts(ribbon([Fraction(3, 2)] * 33, (25, 36), (5, 9))) == {0: 2, 1: 1}
    assert counts(ribbon([Fraction(3, 2)] * 33, (25, 36), (1, 1))) == {0: 3}


def test_a_roll_in_hand_is_cut_too_and_only_what_it_lacks_is_bought() -> None:
    assert counts(ribbon([Fraction(2)] * 4, (5, 9), held=8)) == {}
    assert counts(ribbon([Fraction(2)] * 5, (5, 9), held=8)) == {0: 1}
    # 9 yd are wanted and 9 in hand and bought already, but three cuts of 3 yd do not lie whole on 8 yd.
    assert counts(ribbon([Fraction(3)] * 3, (5, 9), held=8)) == {0: 1}
    assert counts(ribbon([Fraction(4)] * 2, (5, 9), held=9)) == {}


def test_a_roll_shorter_than_a_cut_is_bought_only_where_all_are() -> None:
    assert counts(ribbon([Fraction(6)], (5, 1), (10, 99))) == {1: 1}
    assert counts(ribbon([Fraction(6)], (5, 1))) == {0: 2}


def test_longest_cut_first_on_the_first_roll_with_room() -> None:
    rolls = lay([Fraction(2), Fraction(7), Fraction(4), Fraction(3), Fraction(4)], Fraction(10))
    assert [(roll.cuts, roll.left) for roll in rolls] == [((1, 3), Fraction(0)), ((2, 4, 0), Fraction(0))]


LOTS = st.lists(
    st.builds(
        lambda size, price, start, less: (size, price, start, less),
        st.integers(1, 12),
        st.integers(1, 40),
        st.integers(2, 6),
        st.integers(0, 20),
    ),
    min_size=1,
    max_size=3,
)


def lots_of(rows: list[tuple[int, int, int, int]]) -> list[Lot]:
    return [
        lot(size, str(price), i, at=start, then=str(Fraction(max(price - less, 1))))
        for i, (size, price, start, less) in enumerate(rows)
    ]


@given(st.integers(1, 60), LOTS)
def test_no_count_of_any_one_lot_comes_first(amount: int, rows: list[tuple[int, int, int, int]]) -> None:
    """Each lot is another seller's here, so a want is bought of one: cost, spare, packs, place decide."""
    enough = [
        (Purchase(one, packs).cost, packs * one.size, packs, packs * one.index)
        for one, packs in product(lots_of(rows), range(1, 70))
        if packs * one.size >= amount
    ]
    found = bought(amount, *lots_of(rows))
    assert (found.cost, found.amount, found.packs, found.packs * found.lot.index) == min(enough)


@given(st.integers(1, 24), LOTS.map(lambda rows: rows[:2]))
@settings(max_examples=60)
def test_no_mix_of_one_sellers_packs_comes_first(amount: int, rows: list[tuple[int, int, int, int]]) -> None:
    lots = [replace(one, supplier="farm") for one in lots_of(rows)]
    counts = [range(max(-(-amount // int(one.size)), one.breaks[0][0]) + 1) for one in lots]
    mixes = (
        [Purchase(one, n) for one, n in zip(lots, mix, strict=True)]
        for mix in product(*counts)
        if sum(n * one.size for one, n in zip(lots, mix, strict=True)) >= amount
    )
    assert _in_turn(buy([Want(ROSE, Fraction(amount))], lots, {}).rows) == min(map(_in_turn, mixes))


def _in_turn(rows: Sequence[Purchase]) -> tuple[Fraction, Fraction, int, int]:
    """What decides between two ways to buy."""
    cost, amount = (
        sum((row.cost for row in rows), Fraction(0)),
        sum((row.amount for row in rows), Fraction(0)),
    )
    return cost, amount, sum(row.packs for row in rows), sum(row.packs * row.lot.index for row in rows)


@given(st.integers(1, 60), LOTS)
def test_the_order_of_the_offers_does_not_matter(amount: int, rows: list[tuple[int, int, int, int]]) -> None:
    found = {bought(amount, *turned) for turned in permutations(lots_of(rows))}
    assert len(found) == 1


@given(st.lists(st.tuples(st.integers(1, 60), LOTS), min_size=1, max_size=4))
def test_never_short_and_never_dearer_than_rounding_up_at_the_cheapest_offer(
    asked: list[tuple[int, list[tuple[int, int, int, int]]]],
) -> None:
    things = [Thing("stem", str(i)) for i in range(len(asked))]
    wants = [Want(thing, Fraction(n)) for thing, (n, _) in zip(things, asked, strict=True)]
    lots = [
        Lot(thing, one.index, one.supplier, one.size, one.price, one.breaks)
        for thing, (_, rows) in zip(things, asked, strict=True)
        for one in lots_of(rows)
    ]
    found = buy(wants, lots, {})
    for want in wants:
        (row,) = [row for row in found.rows if row.lot.thing == want.thing]
        assert row.amount >= want.amount
        each = [one for one in lots if one.thing == want.thing]
        assert row.cost <= min(one.price * -(-want.amount // one.size) for one in each)


@given(st.lists(st.fractions(Fraction(1, 4), 5, max_denominator=4), min_size=1, max_size=25))
def test_every_cut_lies_once_and_whole_on_a_roll(cuts: list[Fraction]) -> None:
    rolls = lay(cuts, Fraction(5))
    assert sorted(i for roll in rolls for i in roll.cuts) == list(range(len(cuts)))
    assert all(sum(cuts[i] for i in roll.cuts) + roll.left == 5 and roll.left >= 0 for roll in rolls)


@given(st.lists(st.fractions(Fraction(1, 4), 5, max_denominator=4), max_size=25))
def test_cuts_are_laid_first_fit(cuts: list[Fraction]) -> None:
    """The rule said again, slowly: each cut in turn, on the first roll that has room."""
    left: list[Fraction] = []
    for cut in sorted(cuts, reverse=True):
        room = [i for i, rest in enumerate(left) if rest >= cut]
        if not room:
            left.append(Fraction(5))
        left[room[0] if room else -1] -= cut
    assert [roll.left for roll in lay(cuts, Fraction(5))] == left


def test_ten_thousand_cuts_are_laid_at_once() -> None:
    # 16 cuts of 1.5 yd come from a roll of 25 yd: 9,999 / 16 is 624.9.
    assert len(lay([Fraction(3, 2)] * 9_999, Fraction(25))) == 625
