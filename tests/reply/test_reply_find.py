"""Codes are found in mail whatever was done to it, one way or two at once."""

import email.message
import email.policy
from itertools import product
from random import Random

import pytest

from sitegen.reply.code import Packed, write_code
from sitegen.reply.find import MOST_CODES, MOST_TEXT, Broken, Found, find, together
from sitegen.reply.mail import texts_in
from sitegen.reply.notes import LONGEST, notes_digest, notes_in, shown
from tests.reply.drawn import KEY, PID, random_said, random_table
from tests.reply.mangled import MANGLES

SUMMARY = """Hello Una,

this is what we would like:
Bridal bouquet: Fuller, instead of As shown
Bud vases: 12 instead of 9
Total $4,280.50

Please leave this line in:
{code}

Thank you! Bea & Dot
"""


def codes(count: int) -> list[str]:
    made = []
    for seed in range(count):
        chance = Random(seed)
        table = random_table(chance)
        made.append(write_code(KEY, PID, table, random_said(chance, table)))
    return made


def whole(text: str) -> list[Packed]:
    found = find(text)
    assert not found.broken
    return list(found.whole)


@pytest.mark.parametrize("name", MANGLES)
def test_each_way(name: str) -> None:
    for code in codes(25):
        (own,) = whole(code)
        assert whole(MANGLES[name](SUMMARY.format(code=code))) == [own], code


@pytest.mark.slow
def test_two_ways_at_once() -> None:
    for first, second in product(MANGLES, repeat=2):
        for code in codes(2):
            (own,) = whole(code)
            mangled = MANGLES[second](MANGLES[first](SUMMARY.format(code=code)))
            assert find(mangled).whole == (own,), (first, second, code)


def test_two_codes_in_one_text() -> None:
    one, two = codes(2)
    assert len(whole(f"{one}\n\n> {two}\n> {one}")) == 2
    found = find(f"{one}\n{two[:40]}")
    assert (len(found.whole), found.broken) == (1, (Broken.CUT,))


def mail(code: str, charset: str = "utf-8", transfer: str | None = None) -> bytes:
    made = email.message.EmailMessage(policy=email.policy.SMTP)
    made["From"], made["To"], made["Subject"] = "bea@example.com", "una@example.com", "Re: Fern Hollow ✿"
    text = SUMMARY.format(code=code)
    made.set_content(text.encode(charset, "ignore").decode(charset), charset=charset, cte=transfer)
    page = "".join(f"<p>{line}</p>" for line in text.replace("-", "-<wbr>").split("\n"))
    made.add_alternative(
        f"<html><head><style>.x{{}}</style></head><body>{page}</body></html>", subtype="html"
    )
    made.add_attachment(b"\xff\xd8\xff", maintype="image", subtype="jpeg", filename="TRUG1-AAAAA.jpg")
    return made.as_bytes()


@pytest.mark.parametrize("charset", ["utf-8", "iso-8859-1", "utf-16"])
@pytest.mark.parametrize("transfer", ["quoted-printable", "base64"])
def test_mail_as_the_standard_library_writes_it(charset: str, transfer: str) -> None:
    (code,) = codes(1)
    (own,) = whole(code)
    texts = texts_in(mail(code, charset, transfer))
    assert len(texts) == 2
    for text in texts:
        assert whole(text) == [own]
    assert together(map(find, texts)) == Found((own,))


def test_a_forwarded_mail_and_a_page_alone() -> None:
    (code,) = codes(1)
    (own,) = whole(code)
    outer = email.message.EmailMessage(policy=email.policy.SMTP)
    outer["From"], outer["Subject"] = "una@example.com", "Fwd"
    outer.set_content("See below")
    inner = email.message_from_bytes(mail(code), policy=email.policy.SMTP)
    outer.add_attachment(inner)
    assert together(map(find, texts_in(outer.as_bytes()))).whole == (own,)
    page = f"<html><body><table><tr><td>{code}</td></tr></table><script>TRUG1-AAAAA</script></body></html>"
    assert [find(text) for text in texts_in(page.encode())] == [Found((own,))]
    assert [find(text) for text in texts_in(code.encode("utf-16"))] == [Found((own,))]


@pytest.mark.parametrize(
    "data",
    [
        b"",
        b"From: x\nContent-Type: text/plain; charset=no-such\n\nhello \xff",
        b"From: x\nContent-Type: multipart/mixed; boundary=b\n\n--b\nContent-Type: text/html\n\n<p>"
        + b"<" * 999,
        b"From: x\nContent-Type: multipart/mixed\n\nno boundary",
        b"Content-Type: text/plain\nContent-Transfer-Encoding: base64\n\n!!!!",
        b"\xff\xfe\x00",
        b"TRUG1" * 10_000,
        b"TRUG1-ZZ" + b"A" * 100_000,
    ],
)
def test_hostile_bytes_are_only_read(data: bytes) -> None:
    found = together(map(find, texts_in(data)))
    assert not found.whole
    assert len(found.broken) <= MOST_CODES


@pytest.mark.parametrize("part", ["<div>", "&amp;", "=\n", "TRUG1-", "%41", "[1: x ", "A-"])
def test_long_hostile_text_takes_no_time(part: str) -> None:
    """What grows with the square of a text takes minutes for a megabyte; the suite's own limit of time is the check."""
    text = part * (1_000_000 // len(part))
    find(text)
    assert len(notes_in(text[:200_000])) <= 1
    texts_in(text.encode())


def test_of_a_longer_text_the_rest_is_not_looked_at() -> None:
    (code,) = codes(1)
    assert whole(f"{' ' * (MOST_TEXT - 1000)}{code}")
    assert find(f"{' ' * MOST_TEXT}{code}") == Found()


def test_notes_are_bounded_and_inert() -> None:
    note = "<b>red</b> \u202eevil\x1b[31m " + "x" * 9_000
    (found,) = notes_in(f"[1: {note} :1]").values()
    assert len(found) == LONGEST
    assert found.isprintable()
    assert "\u202e" not in found
    assert shown("a\x07b\u2066c\ud800") == "a\ufffdbc\ufffd"
    assert notes_digest({1: "\ud800x"}) == notes_digest({1: "x"})
