"""Purchases remembered between builds: what was asked before is not searched again.

The key is the whole question and the program that answers it, so an answer can never be another's. A memory
that is lost, damaged or of another version only costs time.
"""

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from hashlib import blake2b
from pathlib import Path
from typing import Any

from sitegen.build.keys import PACKAGE, stamp
from sitegen.order.buy import buy
from sitegen.order.market import Buyer, Lot, Purchase, Purchases, Seller, Want
from sitegen.pictures.store import Store, put

_NAME = "bought.json"
_MOST = 4_000  # answers: several for each of hundreds of events


@dataclass(slots=True)
class Ledger:
    """Answers by key, those asked for last at the end. With no store it remembers for one run only.

    `program` tells which program gave them.
    """

    store: Store | None = None
    program: str = ""
    answers: dict[str, Any] = field(default_factory=dict)
    changed: bool = False


def open_ledger(home: Path) -> Ledger:
    """Read what is kept in *home*."""
    store = Store(home / "cache" / "orders")
    try:
        written = json.loads(store.path(_NAME).read_bytes())
        answers, whole = written["answers"], written["whole"] == _sum(written["answers"])
    except (OSError, ValueError, TypeError, KeyError):
        answers, whole = {}, True
    program = stamp((PACKAGE / "order", PACKAGE / "solve")).hex()
    return Ledger(store, program, answers if whole else {})


def save_ledger(ledger: Ledger) -> None:
    """Write the ledger if it learned anything, without the answers longest not asked for. Raises OSError."""
    if ledger.store and ledger.changed:
        kept = dict(list(ledger.answers.items())[-_MOST:])
        put(ledger.store, _NAME, json.dumps({"answers": kept, "whole": _sum(kept)}).encode())
        ledger.changed = False


def buyer_of(ledger: Ledger) -> Buyer:
    """Give a buyer that answers as `buy` does, from memory where it can."""

    def remembered(wants: Sequence[Want], lots: Sequence[Lot], sellers: Mapping[str, Seller]) -> Purchases:
        key = _key(ledger.program, wants, lots, sellers)
        answer = ledger.answers.pop(key, None)
        if answer is None:
            answer = _written(buy(wants, lots, sellers), wants, lots)
            ledger.changed = True
        ledger.answers[key] = answer
        return _read(answer, wants, lots, sellers)

    return remembered


def _key(program: str, wants: Sequence[Want], lots: Sequence[Lot], sellers: Mapping[str, Seller]) -> str:
    asked = [
        program,
        [[one.thing.kind, one.thing.id, one.amount, one.held, one.mix, one.cuts] for one in wants],
        [
            [one.thing.kind, one.thing.id, one.index, one.supplier, one.size, one.price, one.breaks]
            for one in lots
        ],
        [[name, one.delivery, one.minimum] for name, one in sellers.items()],
    ]
    return blake2b(json.dumps(asked, default=str).encode(), digest_size=16).hexdigest()


def _written(bought: Purchases, wants: Sequence[Want], lots: Sequence[Lot]) -> list[Any]:
    """Write an answer down by the places of wants and lots in the question."""
    places = {(lot.thing, lot.index): i for i, lot in enumerate(lots)}
    rows = [[places[row.lot.thing, row.lot.index], row.packs] for row in bought.rows]
    return [rows, [i for i, want in enumerate(wants) if want.thing in bought.missing], str(bought.gap)]


def _read(
    answer: list[Any], wants: Sequence[Want], lots: Sequence[Lot], sellers: Mapping[str, Seller]
) -> Purchases:
    rows, missing, gap = answer
    bought = tuple(Purchase(lots[at], packs) for at, packs in rows)
    used = {row.lot.supplier for row in bought}
    fees = {name: one.delivery for name, one in sellers.items() if name in used}
    return Purchases(bought, fees, tuple(wants[i].thing for i in missing), Fraction(gap))


def _sum(answers: object) -> str:
    return blake2b(json.dumps(answers).encode(), digest_size=16).hexdigest()
