"""The primitives against published numbers, in Python and in the page's own script; sources stand in the file."""

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from cryptography.exceptions import InvalidTag
from cryptography.hazmat.primitives.ciphers.aead import AESGCM

from sitegen.seal.base32 import decode, encode
from sitegen.seal.lock import hkdf, lock, mac, stretched
from tests.seal.scripts import BOTH, Run, in_either

PUBLISHED = json.loads(
    (Path(__file__).parents[1] / "vectors" / "seal" / "published.json").read_text(encoding="utf-8")
)
HKDF, PBKDF2, GCM = (PUBLISHED[name]["cases"] for name in ("hkdf", "pbkdf2", "gcm"))


@pytest.fixture(scope="module", params=BOTH)
def run(request: pytest.FixtureRequest) -> Iterator[Run]:
    yield from in_either(request)


def test_there_are_as_many_as_were_chosen() -> None:
    assert (len(HKDF), len(PBKDF2), len(GCM)) == (3, 2, 50)
    assert sum(case["plain"] is None for case in GCM) == 25


@pytest.mark.parametrize("case", HKDF)
def test_hkdf(case: dict[str, Any]) -> None:
    secret, salt, info = (bytes.fromhex(case[part]) for part in ("ikm", "salt", "info"))
    made = hkdf(secret, salt, info, case["length"])
    assert made.hex() == case["okm"]


@pytest.mark.parametrize("case", PBKDF2)
def test_pbkdf2(case: dict[str, Any]) -> None:
    made = stretched(case["password"].encode(), case["salt"].encode(), case["rounds"])
    assert made.hex() == case["key"]


@pytest.mark.parametrize(
    "case", GCM, ids=lambda case: f"{case['plain_bits']}-{case['aad_bits']}-{case['count']}"
)
def test_gcm(case: dict[str, Any]) -> None:
    key, iv, cipher, tag, beside = (
        bytes.fromhex(case[part]) for part in ("key", "iv", "cipher", "tag", "aad")
    )
    if case["plain"] is None:
        with pytest.raises(InvalidTag):
            AESGCM(key).decrypt(iv, cipher + tag, beside)
    else:
        assert AESGCM(key).decrypt(iv, cipher + tag, beside).hex() == case["plain"]


def test_gcm_with_our_own_nonce() -> None:
    # McGrew and Viega, The Galois/Counter Mode of Operation, appendix B, test cases 13 and 14; from memory.
    assert lock(bytes(32), b"", b"").hex() == "530f8afbc74536b9a963b4f1c4cb738b"
    sixteen = "cea7403d4d606b6e074ec5d3baf39d18" + "d0d1c8a799996bf0265b98b5d48ab919"
    assert lock(bytes(32), bytes(16), b"").hex() == sixteen


def test_hmac() -> None:
    # RFC 4231, test cases 1 and 2; from memory.
    first = "b0344c61d8db38535ca8afceaf0bf12b881dc200c9833da726e9376c2e32cff7"
    second = "5bdcc146bf60754e6a042426089575c75a003f089d2739839dec58b964ec3843"
    assert mac(b"\x0b" * 20, b"Hi There").hex() == first
    assert mac(b"Jefe", b"what do ya want for nothing?").hex() == second


def test_base32_symbols() -> None:
    # Douglas Crockford, Base 32: the symbols in order of their values (I, L, O and U are left out); from memory.
    symbols = "0123456789ABCDEFGHJKMNPQRSTVWXYZ".lower()
    number = int.from_bytes(bytes(decode(symbols) or b""))
    assert [number >> 5 * place & 31 for place in reversed(range(32))] == list(range(32))
    assert encode(bytes(decode(symbols) or b"")) == symbols


def test_the_script_s_hkdf(run: Run) -> None:
    body = (
        "return Promise.all(given.map(async ({ ikm, salt, info, length }) =>"
        " hex(await hkdf(unhex(ikm), unhex(salt), unhex(info), length))));"
    )
    assert run(body, HKDF) == [case["okm"] for case in HKDF]


def test_the_script_s_pbkdf2(run: Run) -> None:
    body = (
        "return Promise.all(given.map(async ({ password, salt, rounds }) =>"
        " hex(await stretched(utf8(password), utf8(salt), rounds))));"
    )
    assert run(body, PBKDF2) == [case["key"] for case in PBKDF2]


def test_the_script_s_gcm(run: Run) -> None:
    body = (
        "return Promise.all(given.map(async ({ key, iv, cipher, tag, aad }) => {"
        " const plain = await unlocked(unhex(key), unhex(iv), unhex(cipher + tag), unhex(aad));"
        " return plain && hex(plain); }));"
    )
    assert run(body, GCM) == [case["plain"] for case in GCM]
