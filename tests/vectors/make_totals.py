"""Writes totals/*.json, the vectors that Python and the page's script must both reproduce.

    python -m tests.vectors.make_totals

Each file is `{"table": …, "cases": [{"picks": …, "totals": …}]}`: integers in smallest units,
ratios as [numerator, denominator]. Same script, same bytes: chance comes from fixed seeds.
"""

import json
from collections.abc import Iterator
from fractions import Fraction
from pathlib import Path
from random import Random
from typing import Any

from sitegen.choices.picks import Pick, Picks, picks_json, usual_picks
from sitegen.choices.table import Part, Table, TableCharge, TablePiece, table_json
from sitegen.choices.totals import totals, totals_json

FOLDER = Path(__file__).with_name("totals")
RANDOM_PICKS = 6


def part(value: Fraction | int) -> Part:
    return Part(value, None) if isinstance(value, Fraction) else Part(None, value)


def piece(
    name: str,
    each: tuple[int, ...],
    answers: tuple[int, ...] = (),
    bounds: tuple[int, int, int] = (1, 1, 1),
    *,
    optional: bool = False,
    taxable: bool = True,
) -> TablePiece:
    return TablePiece(name, answers, tuple(0 for _ in answers), each, *bounds, optional, taxable)


def charge(
    name: str, value: Fraction | int, least: int = 0, *, optional: bool = False, taxable: bool = True
) -> TableCharge:
    return TableCharge(name, part(value), least, optional, taxable)


PIECES = (
    piece("hand-tied", (11800, 12000), (2,)),
    piece("low-bowls", (3800, 5500, 8100), (3,), (5, 4, 8)),
    piece("arch", (64900, 71300, 58800, 66100), (2, 2), optional=True),
    piece("candles", (1250,), bounds=(12, 0, 20), optional=True, taxable=False),
)
CHARGES = (
    charge("delivery", Fraction(12, 100), 9000),
    charge("late", 15000, optional=True, taxable=False),
    charge("candle-watch", Fraction(1, 30), optional=True),
)
STATE_AND_COUNTY = (Fraction("0.0625"), Fraction("0.01"))
THIRDS = (part(Fraction(1, 3)), part(Fraction(1, 3)), None)


def tables() -> dict[str, Table]:
    """One table for each rule; the names say which."""
    common = Table(
        2, PIECES, CHARGES, None, STATE_AND_COUNTY, included=False, per_line=False, payments=THIRDS
    )

    def like(**changes: Any) -> Table:
        fields = {name: getattr(common, name) for name in common.__dataclass_fields__}
        return Table(**{**fields, **changes})

    return {
        "invoice": common,
        "invoice-included": like(included=True),
        "line": like(per_line=True, discount=part(Fraction(7, 100))),
        "line-included": like(per_line=True, included=True, discount=part(1999)),
        "discount-percent": like(discount=part(Fraction(1, 20))),
        "discount-above-subtotal": like(discount=part(5_000_000)),
        "discount-everything": like(discount=part(Fraction(1))),
        "payments-fixed": like(payments=(part(50_000), part(30_000), part(Fraction(1, 2)), None)),
        "payment-one": like(payments=(None,)),
        "plain": like(charges=(), rates=(), payments=()),
        "rates-of-nothing": like(rates=(Fraction(0), Fraction(0))),
        "three-rates": like(rates=(Fraction("0.04"), Fraction("0.03875"), Fraction(0))),
        "yen": like(
            digits=0,
            pieces=(piece("bowl", (5501, 7250), (2,), (9, 1, 12)), piece("vase", (15,))),
            charges=(charge("delivery", Fraction(1, 8), 3000),),
            discount=part(Fraction(3, 100)),
            rates=(Fraction("0.1"),),
            included=True,
        ),
        "dinar": like(
            digits=3,
            pieces=(
                piece("bowl", (12345, 9995, 20001), (3,), (7, 1, 40)),
                piece("arch", (250_005,), optional=True),
            ),
            charges=(charge("delivery", Fraction(5, 100), 1), charge("late", 12_500, optional=True)),
            rates=(Fraction("0.1"),),
            discount=part(Fraction(25, 1000)),
        ),
        "ties": like(
            pieces=(piece("pin", (10, 30, 50), (3,), (1, 1, 9)),),
            charges=(charge("tenth", Fraction(1, 20)),),
            rates=(Fraction("0.05"),),
            payments=(part(Fraction(1, 2)), None),
        ),
        "large": like(
            pieces=(piece("hall", (9_007_199_254_741, 8_999_999_999_999), (2,), (97, 1, 500)),),
            charges=(charge("delivery", Fraction(123_457, 1_000_000)),),
            rates=(Fraction("0.08875"), Fraction("0.013333")),
            discount=part(Fraction(1, 999_999)),
        ),
    }


def random_table(chance: Random) -> Table:
    """A table drawn from all that the formats allow."""
    pieces = tuple(_random_piece(chance, i) for i in range(chance.randint(1, 5)))
    charges = tuple(
        TableCharge(
            id=f"c{i}",
            part=_random_part(chance, 20_000),
            least=chance.choice((0, 0, 5000)),
            optional=chance.random() < 0.5,
            taxable=chance.random() < 0.5,
        )
        for i in range(chance.randint(0, 3))
    )
    return Table(
        digits=chance.choice((0, 2, 3)),
        pieces=pieces,
        charges=charges,
        discount=chance.choice((None, _random_part(chance, 100_000))),
        rates=tuple(Fraction(chance.randint(0, 2500), 10_000) for _ in range(chance.randint(0, 3))),
        included=chance.random() < 0.3,
        per_line=chance.random() < 0.3,
        payments=(*(_random_part(chance, 50_000) for _ in range(chance.randint(0, 3))), None),
    )


def _random_part(chance: Random, most: int) -> Part:
    return part(Fraction(chance.randint(0, 100), 100) if chance.random() < 0.6 else chance.randint(0, most))


def _random_piece(chance: Random, i: int) -> TablePiece:
    answers = tuple(chance.randint(1, 3) for _ in range(chance.randint(0, 2)))
    combinations = 1
    for size in answers:
        combinations *= size
    least = chance.randint(0, 5)
    most = least + chance.randint(0, 9)
    return TablePiece(
        id=f"p{i}",
        answers=answers,
        usual=tuple(chance.randrange(size) for size in answers),
        each=tuple(chance.randint(0, 99_999) for _ in range(combinations)),
        quantity=chance.randint(least, most),
        least=least,
        most=most,
        optional=chance.random() < 0.4,
        taxable=chance.random() < 0.8,
    )


def some_picks(table: Table, chance: Random) -> Iterator[Picks]:
    """As suggested; all that may be left out left out; then some at random."""
    usual = usual_picks(table)
    yield usual
    yield Picks(
        tuple(
            Pick(pick.answers, piece.least, piece.optional)
            for piece, pick in zip(table.pieces, usual.pieces, strict=True)
        )
    )
    for _ in range(RANDOM_PICKS):
        yield random_picks(table, chance)


def random_picks(table: Table, chance: Random) -> Picks:
    return Picks(
        pieces=tuple(
            Pick(
                answers=tuple(chance.randrange(size) for size in piece.answers),
                quantity=chance.randint(piece.least, piece.most),
                out=piece.optional and chance.random() < 0.4,
            )
            for piece in table.pieces
        ),
        charges=frozenset(i for i, one in enumerate(table.charges) if one.optional and chance.random() < 0.5),
    )


def vectors() -> dict[str, str]:
    """The files by name, as they are written."""
    named = tables() | {f"random-{seed:02}": random_table(Random(seed)) for seed in range(1, 21)}
    return {f"{name}.json": _text(table, Random(name)) for name, table in named.items()}


def _text(table: Table, chance: Random) -> str:
    cases = [
        {"picks": picks_json(picks), "totals": totals_json(totals(table, picks))}
        for picks in some_picks(table, chance)
    ]
    rows = ",\n".join(f"  {json.dumps(case)}" for case in cases)
    return f'{{"table": {json.dumps(table_json(table))},\n "cases": [\n{rows}\n ]}}\n'


if __name__ == "__main__":
    FOLDER.mkdir(exist_ok=True)
    for name, text in vectors().items():
        (FOLDER / name).write_text(text, encoding="utf-8")
