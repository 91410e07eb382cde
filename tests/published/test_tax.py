"""Tax against what tax offices printed, through the same totals that a proposal gets."""

from fractions import Fraction

import pytest

from sitegen.choices.picks import usual_picks
from sitegen.choices.table import Table, TableCharge
from sitegen.choices.totals import Totals, totals
from tests.vectors.make_totals import charge, part, piece


def taxed(
    *units: int,
    rate: str,
    included: bool = False,
    per_line: bool = False,
    charges: tuple[TableCharge, ...] = (),
) -> Totals:
    """Pieces at these prices, under one rate."""
    pieces = tuple(piece(f"p{i}", (price,)) for i, price in enumerate(units))
    table = Table(
        2, pieces, charges, None, (Fraction(rate),), included, per_line, (part(Fraction(1, 2)), None)
    )
    return totals(table, usual_picks(table))


# Wisconsin Administrative Register 1997 no. 498B, Tax 11.32 (5): bracket tables, in cents. Each range carries one
# cent of tax more than the one before, from none. https://docs.legis.wisconsin.gov/code/register/1997/498b/register
# The rates are historic; the tables serve as a published test of rounding.
BRACKETS = {
    "0.05": "1-9, 10-29, 30-49, 50-69, 70-89, 90-109",
    "0.055": ("1-9, 10-27, 28-45, 46-63, 64-81, 82-99, 100-118, 119-136, 137-154, 155-172, 173-190, 191-209"),
    "0.051": (
        "1-9, 10-29, 30-49, 50-68, 69-88, 89-107, 108-127, 128-147, 148-166, 167-186, 187-205, 206-225, 226-245, "
        "246-264, 265-284, 285-303, 304-323, 324-343, 344-362, 363-382, 383-401, 402-421, 422-441, 442-460, "
        "461-480, 481-499, 500-519"
    ),
}


def bracketed() -> list[tuple[str, int, int]]:
    """Every amount of the tables, with its rate and its tax."""
    return [
        (rate, amount, tax)
        for rate, ranges in BRACKETS.items()
        for tax, (first, last) in enumerate(tuple(map(int, r.split("-"))) for r in ranges.split(", "))
        for amount in range(first, last + 1)
    ]


def test_all_837_amounts_of_the_bracket_tables() -> None:
    amounts = bracketed()
    assert len(amounts) == 837
    wrong = [(rate, amount) for rate, amount, tax in amounts if taxed(amount, rate=rate).tax != (tax,)]
    assert wrong == []


def test_a_sale_of_11_50_at_5_5_percent() -> None:
    """The same register: 63 cents, where the table's 55 for ten dollars and 8 for the rest are added."""
    assert taxed(1150, rate="0.055").tax == (63,)


def test_tax_contained_in_takings_of_10_000() -> None:
    """Wisconsin Administrative Code, Tax 11.32: of 10,000 with 5.5 % included, 521.33 are tax, 9,478.67 are left."""
    got = taxed(1_000_000, rate="0.055", included=True)
    assert got.tax == (52133,)
    assert got.total == 1_000_000
    assert got.total - got.tax[0] == 947_867


# Streamlined Sales and Use Tax Agreement, section 324, as enacted in R.I. Gen. Laws 44-18.1-25 and K.S.A. 79-3676:
# carry to the third decimal, and up where it is greater than four. The amounts are ours, the rule is theirs.
@pytest.mark.parametrize(("price", "tax"), [(1049, 52), (1050, 53), (1069, 53), (1070, 54), (1090, 55)])
def test_the_third_decimal_decides(price: int, tax: int) -> None:
    assert taxed(price, rate="0.05").tax == (tax,)


def test_tax_may_be_taken_on_each_item_or_on_the_invoice() -> None:
    """The same section: either way is open to the seller; three items of 0.30 at 5 % differ by it."""
    assert taxed(30, 30, 30, rate="0.05").tax == (5,)
    assert taxed(30, 30, 30, rate="0.05", per_line=True).tax == (6,)


@pytest.mark.parametrize(("taxable", "tax"), [(True, 4620), (False, 4125)])
def test_whether_delivery_is_taxable_is_told_and_never_guessed(taxable: bool, tax: int) -> None:
    """Delivery is part of the taxable amount in Texas (34 TAC 3.307 (e)) and New York (TB-ST-277), shown apart or not.

    Hanging a garland is not in California (CDTFA annotation 240.0008). The amounts are ours, 8.25 % of 560 or 500.
    """
    got = taxed(50_000, rate="0.0825", charges=(charge("delivery", 6000, taxable=taxable),))
    assert got.tax == (tax,)


def test_vat_contained_in_a_price_is_a_sixth_at_20_percent() -> None:
    """The "VAT fraction" of 20 % is 1/6 (HMRC; from memory, not looked up)."""
    assert taxed(12_000, rate="0.20", included=True).tax == (2000,)
