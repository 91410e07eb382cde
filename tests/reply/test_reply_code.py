"""Codes: what goes in comes out, nothing else is ever accepted, and they stay short."""

import doctest
import hashlib
import hmac
import json
from pathlib import Path
from random import Random

import pytest
from hypothesis import given, settings

from sitegen.choices.picks import Pick, Picks
from sitegen.choices.table import Part, Table, TableCharge, TablePiece
from sitegen.reply import digits
from sitegen.reply.code import Packed, Said, is_proven, said_by, shows, text_of, write_code
from sitegen.reply.find import Broken, find
from tests.reply.drawn import KEY, PID, chances, random_said, random_table
from tests.vectors.make_reply import FILE, cases

SYMBOLS = "0123456789ABCDEFGHJKMNPQRSTVWXYZ"  # Crockford, "Base 32"


def only(text: str) -> Packed:
    (packed,) = find(text).whole
    return packed


@given(chances)
def test_what_was_said_comes_back(chance: Random) -> None:
    table = random_table(chance)
    said = random_said(chance, table)
    packed = only(write_code(KEY, PID, table, said))
    assert is_proven(packed, KEY, PID)
    assert packed.revision == said.revision
    assert said_by(packed, table) == said
    assert shows(said, said.total)


@settings(max_examples=50)
@given(chances)
def test_only_the_own_key_and_the_own_proposal_prove_it(chance: Random) -> None:
    table = random_table(chance)
    packed = only(write_code(KEY, PID, table, random_said(chance, table)))
    assert not is_proven(packed, KEY[:-1] + b"L", PID)
    assert not is_proven(packed, KEY, PID[:-1] + b"L")
    assert not is_proven(packed, KEY, b"L" + PID[1:])


def test_the_bytes_by_hand() -> None:
    """The format spelled out with the standard library alone."""
    table = Table(
        2, (TablePiece("p", (3,), (0,), (1, 2, 3), 5, 4, 8, optional=True, taxable=True),),
        (TableCharge("c", Part(None, 1), 0, optional=True, taxable=True),), None, (), included=False, per_line=False, payments=(None,),
    )  # fmt: skip
    said = Said(7, 300, 2, 5, 12345, Picks((Pick((2,), 6),), frozenset({0})))
    # The answer 2 of 3; the count 6, third from 4, after "left out": 3 of 6; the charge is in.
    number = 2 + 3 * (3 + 6 * 1)
    for digit, radix in reversed(((7, 2**16), (300, 2**16), (2, 2**8), (5, 2**32), (12345, 2**40))):
        number = number * radix + digit
    body = number.to_bytes(14 + 1, "big")
    proof = hmac.new(KEY, b"sitegen/1/reply code" + PID + body, "sha256").digest()[:16]
    data = PID[:4] + body + proof
    data += hashlib.sha256(b"sitegen/1/reply sum" + bytes([0, len(data)]) + data).digest()[:3]
    bits = "".join(f"{byte:08b}" for byte in data)
    bits += "0" * (-len(bits) % 5)
    symbols = f"{len(data):010b}" + bits
    text = "".join(SYMBOLS[int(symbols[i : i + 5], 2)] for i in range(0, len(symbols), 5))
    groups = [text[i : i + 5] for i in range(0, len(text), 5)]
    assert write_code(KEY, PID, table, said) == "-".join(["TRUG1", *groups, "BUD"])


def test_the_vectors_are_those_that_the_script_reads() -> None:
    assert json.loads(FILE.read_text("utf-8")) == cases()


def code() -> tuple[str, Table, Said]:
    chance = Random(8)
    table = random_table(chance, 9)
    said = random_said(chance, table)
    return write_code(KEY, PID, table, said), table, said


def meaning(text: str) -> list[Packed]:
    return list(find(text).whole)


def test_no_other_symbol_in_any_place_is_accepted() -> None:
    text, _, _ = code()
    own = only(text)
    tried = 0
    for i, old in enumerate(text):
        for new in SYMBOLS + "U-":
            if new != old:
                tried += 1
                assert meaning(text[:i] + new + text[i + 1 :]) in ([], [own])
                if old in SYMBOLS and new in SYMBOLS and 5 < i < len(text) - 4:
                    assert meaning(text[:i] + new + text[i + 1 :]) == []
    assert tried > 3000


def test_no_missing_doubled_or_swapped_symbol_is_accepted() -> None:
    text, _, _ = code()
    own = only(text)
    inside = range(6, len(text) - 4)
    for i in inside:
        if text[i] == "-":
            continue
        for other in (text[:i] + text[i + 1 :], text[:i] + text[i] + text[i:]):
            # What is missing or doubled behind the last symbol changes nothing.
            assert meaning(other) in ([], [own] if i > len(text) - 8 else []), i
        j = i + 1 if text[i + 1] != "-" else i + 2
        if text[j] != text[i] and j in inside:
            swapped = list(text)
            swapped[i], swapped[j] = swapped[j], swapped[i]
            assert meaning("".join(swapped)) == [], i
    assert meaning(text) == [own]


def test_what_is_cut_is_told_from_what_is_damaged() -> None:
    text, _, _ = code()
    said = [find(text[:end]) for end in range(len("TRUG1"), len(text) - len("BUD") - 1)]
    assert {found.broken for found in said} == {(Broken.CUT,)}
    hurt = "".join("7" if i == 30 and old != "7" else "8" if i == 30 else old for i, old in enumerate(text))
    assert find(hurt).broken == (Broken.DAMAGED,)
    assert find(f"Hello\n\n{text[:60]}\n\nSent by me").broken == (Broken.CUT,)
    assert find(text.replace("TRUG1", "TRUG2")).broken == (Broken.NEWER,)
    assert find(text.replace("TRUG1-", "")).broken == (Broken.DAMAGED,)


def test_text_without_a_code_holds_none() -> None:
    words = "We want the trug I like best, and 1 more bud vase; trug 1 stays.\nBea & Dot"
    assert find(words) == find("") == type(find(""))()


def test_a_code_of_forty_choices_and_counts_is_short() -> None:
    """The largest usual case: 40 pieces, each with four answers, up to a hundred of it, and optional."""
    pieces = tuple(
        TablePiece(f"p{i}", (4,), (0,), (1, 2, 3, 4), 1, 0, 100, optional=True, taxable=True)
        for i in range(40)
    )
    charges = tuple(TableCharge(f"c{i}", Part(None, 1), 0, optional=True, taxable=True) for i in range(4))
    table = Table(2, pieces, charges, None, (), included=False, per_line=False, payments=(None,))
    picks = Picks(tuple(Pick((3,), 100) for _ in pieces), frozenset(range(4)))
    said = Said(65_535, 65_535, 255, 2**32 - 1, 2**40 - 1, picks)
    assert len(write_code(KEY, PID, table, said)) <= 170
    assert said_by(only(write_code(KEY, PID, table, said)), table) == said


def test_an_authentic_code_that_does_not_fit_a_table_says_nothing() -> None:
    text, table, said = code()
    assert said_by(only(text), table) == said
    assert said_by(only(text), random_table(Random(3), 2)) is None
    with pytest.raises(ValueError, match="more than a code may hold"):
        text_of(Packed(PID[:4], bytes(1100), bytes(16)))


def test_the_examples_in_the_docstrings() -> None:
    failed, tried = doctest.testmod(digits)
    assert (failed, tried > 0) == (0, True)


def test_the_vectors_stand_where_they_should() -> None:
    assert Path("vectors/reply/codes.json").parts == FILE.parts[-3:]
