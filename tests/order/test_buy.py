"""Buying: whole packs, price breaks, ties, and rolls on which every cut fits."""

from fractions import Fraction
from itertools import permutations, product

from hypothesis import given
from hypothesis import strategies as st

from sitegen.order.buy import Lot, Purchase, Seller, Thing, Want, below_minimum, buy, cheapest
from sitegen.order.rolls import lay

ROSE = Thing("stem", "rose")
SILK = Thing("good", "silk")


def lot(size: int, price: str, index: int = 0, **more: int | str) -> Lot:
    breaks = ((int(more["at"]), Fraction(more["then"])),) if more else ()
    return Lot(ROSE, index, f"farm-{index}", Fraction(size), Fraction(price), breaks)


def bought(amount: int, *lots: Lot) -> Purchase:
    found = cheapest(Want(ROSE, Fraction(amount)), lots)
    assert found is not None
    return found


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


def test_a_minimum_counts_the_packs_without_the_delivery() -> None:
    sellers = {"farm-0": Seller(Fraction(50), Fraction(30))}
    twenty = buy([Want(ROSE, Fraction(20))], [lot(10, "10")], sellers)
    assert below_minimum(twenty, sellers) == {"farm-0": 10}
    assert below_minimum(buy([Want(ROSE, Fraction(30))], [lot(10, "10")], sellers), sellers) == {}


def ribbon(cuts: list[Fraction], *rolls: tuple[int, int]) -> Purchase:
    lots = [Lot(SILK, i, "box", Fraction(size), Fraction(price)) for i, (size, price) in enumerate(rolls)]
    found = cheapest(Want(SILK, sum(cuts, Fraction(0)), tuple(cuts)), lots)
    assert found is not None
    return found


def test_cuts_that_do_not_fit_whole_take_one_more_roll() -> None:
    # Source: division; 33 × 1.5 yd are 49.5 yd, but a roll of 25 yd gives only 16 whole cuts: 2 × 16 < 33.
    assert ribbon([Fraction(3, 2)] * 32, (25, 36)).packs == 2
    assert ribbon([Fraction(3, 2)] * 33, (25, 36)).packs == 3


def test_a_roll_shorter_than_a_cut_is_bought_only_where_all_are() -> None:
    assert ribbon([Fraction(6)], (5, 1), (10, 99)).lot.index == 1
    assert ribbon([Fraction(6)], (5, 1)).packs == 2


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
def test_no_count_of_any_one_lot_costs_less(amount: int, rows: list[tuple[int, int, int, int]]) -> None:
    lots = lots_of(rows)
    enough = [
        (Purchase(one, packs).cost, packs * one.size, one.index)
        for one, packs in product(lots, range(1, 70))
        if packs * one.size >= amount
    ]
    found = bought(amount, *lots)
    assert (found.cost, found.amount, found.lot.index) == min(enough)


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
