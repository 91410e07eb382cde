"""The private link: written once, read from whatever is left of it, alike in Python and in the scripts."""

import json
import random
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sitegen.seal import link as link_module
from sitegen.seal.base32 import SYMBOLS, decode, encode, fold
from sitegen.seal.link import Kind, Link, LinkFault, address, fragment, read_link
from tests.seal.scripts import Run, in_node

VECTORS = Path(__file__).parents[1] / "vectors" / "seal"
KNOWN = json.loads((VECTORS / "known.json").read_text(encoding="utf-8"))
CASES = json.loads((VECTORS / "links.json").read_text(encoding="utf-8"))["cases"]
PID = bytes.fromhex(KNOWN["pid"])
LINK = Link(Kind.CHOOSE, PID, bytes.fromhex(KNOWN["choose"]))
BASE = "https://host.example/couples/"
READ = """
const pid = unhex(given.pid);
const told = [];
for (const text of given.texts) {
  const found = await readLink(text, pid);
  told.push(found.fault ?? [found.kind, hex(found.pid), hex(found.secret)]);
}
return told;
"""

sixteen = st.binary(min_size=16, max_size=16)
links = st.builds(Link, st.sampled_from(Kind), sixteen, sixteen)


def told(text: str) -> Any:
    found = read_link(text, PID)
    return str(found) if isinstance(found, LinkFault) else [found.kind, found.pid.hex(), found.secret.hex()]


def test_the_known_fragment() -> None:
    assert fragment(LINK) == KNOWN["fragment"]
    assert address("https://host.example", LINK).endswith(f".example/{encode(PID)}/#{KNOWN['fragment']}")


@pytest.mark.parametrize(("text", "outcome"), [case[1:] for case in CASES], ids=[case[0] for case in CASES])
def test_what_becomes_of_a_link(text: str, outcome: str) -> None:
    assert read_link(text, PID) == (LINK if outcome == "fine" else LinkFault(outcome))


def test_the_scripts_read_the_same(run: Run) -> None:
    fine = [LINK.kind, LINK.pid.hex(), LINK.secret.hex()]
    found = run(READ, {"pid": PID.hex(), "texts": [case[1] for case in CASES]})
    assert found == [fine if outcome == "fine" else outcome for *_, outcome in CASES]


@given(links)
def test_every_link_is_read_back(link: Link) -> None:
    assert read_link(address(BASE, link)) == link
    assert read_link(address(BASE, link).upper()) == link
    assert read_link(fragment(link), link.pid) == link


def test_every_length_is_cut_or_without_a_key() -> None:
    whole = address(BASE, LINK)
    start = whole.index("#") + 1
    for end in range(len(whole)):
        expected = LinkFault.NO_KEY if end <= start else LinkFault.CUT
        assert read_link(whole[:end], PID) is expected, whole[:end]


def test_no_single_symbol_may_change() -> None:
    whole = fragment(LINK)
    for at in range(32):
        for symbol in SYMBOLS:
            changed = whole[:at] + symbol + whole[at + 1 :]
            if changed != whole:
                assert read_link(f"#{changed}", PID) in {LinkFault.CHANGED, LinkFault.NO_KEY}, changed


def test_a_key_of_another_folder_is_changed() -> None:
    assert read_link(fragment(LINK), bytes(16)) is LinkFault.CHANGED
    assert read_link(fragment(LINK)) is LinkFault.CUT


def test_a_later_version_is_told_from_a_typing_error(monkeypatch: pytest.MonkeyPatch) -> None:
    with monkeypatch.context() as patch:
        patch.setattr(link_module, "VERSION", "2")
        later = fragment(LINK)
    assert later.startswith("c2")
    assert read_link(later, PID) is LinkFault.NEWER
    assert in_node(READ, {"pid": PID.hex(), "texts": [later]}) == ["newer link"]


def test_a_link_shows_no_secret() -> None:
    assert LINK.secret.hex() not in repr(LINK)
    assert repr(LINK.secret) not in repr(LINK)


def mutated(chance: random.Random) -> str:
    """A link, some of whose kinds of damage are done several times over."""
    pid = PID if chance.random() < 0.8 else chance.randbytes(16)
    text = address(BASE, Link(chance.choice(list(Kind)), pid, chance.randbytes(16)))
    if chance.random() < 0.1:
        text = text.partition("#")[2]
    for _ in range(chance.randrange(4)):
        at = chance.randrange(len(text) + 1)
        text = chance.choice(_DAMAGE)(text, at, chance)
    return text


ODD = " \n\r\t>=#%/&?.,*_-~\"'()<uoilOILéﬁ１ \u200b\u00a0\ufeff\u00ad\u2028😀\x00\x1c\x85"
_DAMAGE = (
    lambda text, at, _: text[:at],
    lambda text, at, _: text[at:],
    lambda text, at, chance: text[:at] + chance.choice(ODD) + text[at:],
    lambda text, at, chance: text[:at] + chance.choice(SYMBOLS) + text[at + 1 :],
    lambda text, at, _: text[:at] + text[at + 1 :],
    lambda text, at, _: text[:at] + text[at : at + 2][::-1] + text[at + 2 :],
    lambda text, at, _: text[:at] + "\n> " + text[at:],
    lambda text, at, _: text[:at] + "=\r\n" + text[at:],
    lambda text, _at, _: text.replace("#", "%23"),
    lambda text, _at, _: text.replace("#", "%2523").replace("/", "%2F"),
    lambda text, _at, _: text.upper(),
    lambda text, _at, _: text.swapcase().replace("0", "o").replace("1", "L"),
    lambda text, _at, _: f"Dear both, see #2 at <{text}> today",
    lambda text, at, chance: text[:at] + "".join(chance.choices(SYMBOLS + ODD, k=5)) + text[at:],
    lambda text, at, _: (
        "".join(f"%{ord(letter):02X}" if letter < "\x80" else letter for letter in text[:at]) + text[at:]
    ),
)


@pytest.mark.slow
def test_ten_thousand_damaged_links_read_alike(run: Run) -> None:
    chance = random.Random(20270612)
    texts = [mutated(chance) for _ in range(9_000)]
    texts += ["".join(chance.choices(SYMBOLS + ODD + "cv11", k=chance.randrange(90))) for _ in range(1_000)]
    here = [told(text) for text in texts]
    outcomes = {one if isinstance(one, str) else "fine" for one in here}
    assert outcomes == {"fine", "no key", "cut link", "changed link"}
    assert sum(isinstance(one, list) for one in here) > 3_000
    assert run(READ, {"pid": PID.hex(), "texts": texts}) == here


@given(st.text(max_size=200))
def test_any_text_is_read(text: str) -> None:
    assert isinstance(read_link(text), LinkFault)


@given(st.binary(max_size=40))
def test_base32_goes_both_ways(data: bytes) -> None:
    assert decode(encode(data)) == data
    assert decode(fold(encode(data).upper())) == data


def test_base32_has_one_spelling() -> None:
    for text in (*SYMBOLS, *(a + b for a in SYMBOLS for b in SYMBOLS), "000", "u0", "0-", "é0"):
        data = decode(text)
        assert data is None or encode(data) == text


def test_what_a_not_found_page_recovers() -> None:
    found = f"/{encode(PID)}"
    key = fragment(LINK)
    good = [f"{found}/%23{key}", f"{found}/index.html%23{key}&utm_x=1", f"/for/us{found}/%2523{key.upper()}"]
    evil = [
        f"//evil.example{found}/%23{key}",
        f"/\\evil.example{found}/%23{key}",
        f"/%2f/evil.example{found}/%23{key}",
        f"{found}/%23{key[:-1]}",
        f"{found}/#{key}",
        f"https://evil.example{found}/%23{key}",
        "",
    ]
    to = f"{found}/#{key}"
    expected = [to, to, f"/for/us{to}", *[None] * len(evil)]
    assert in_node("return given.map(recoveredPath);", good + evil) == expected


def test_the_script_writes_the_same_fragment(run: Run) -> None:
    view = {"kind": "v", "pid": PID.hex(), "secret": KNOWN["view"]}
    body = "return fragmentOf(linkOf(given));"
    assert run(body, view) == fragment(Link(Kind.VIEW, PID, bytes.fromhex(KNOWN["view"])))
