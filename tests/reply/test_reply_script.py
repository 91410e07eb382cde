"""The page's script writes the codes that Python writes, in Node and in Chromium."""

import json
from collections.abc import Iterator
from random import Random
from typing import Any

import pytest

from sitegen.choices.table import table_json
from sitegen.render.scripts import joined
from sitegen.reply.code import write_code
from sitegen.reply.notes import notes_digest, notes_in
from tests.reply.drawn import random_said, random_table
from tests.seal.scripts import BOTH, Run, in_either
from tests.vectors.make_reply import FILE, said_json

CODE = joined("text.js", "code.js")
ALL = (
    CODE
    + """
const codes = [];
for (const { key, pid, table, said } of given) codes.push(await replyCode(unhex(key), unhex(pid), table, said));
return codes;
"""
)


@pytest.fixture(scope="module", params=BOTH)
def run(request: pytest.FixtureRequest) -> Iterator[Run]:
    yield from in_either(request)


def test_the_vectors(run: Run) -> None:
    known: list[dict[str, Any]] = json.loads(FILE.read_text("utf-8"))
    assert len(known) >= 40
    assert run(ALL, known) == [case["code"] for case in known]


def test_what_is_drawn_at_random(run: Run) -> None:
    given, expected = [], []
    for seed in range(1000, 1300):
        chance = Random(seed)
        table = random_table(chance)
        key, pid, said = chance.randbytes(32), chance.randbytes(16), random_said(chance, table)
        given.append(
            {"key": key.hex(), "pid": pid.hex(), "table": table_json(table), "said": said_json(said)}
        )
        expected.append(write_code(key, pid, table, said))
    assert run(ALL, given) == expected


NOTES: list[dict[int, str]] = [
    {},
    {1: "No lilies, please"},
    {2: "“Fuller” on the left — by the door", 12: "1½ yd\nof ribbon"},
    {3: "Zoë’s rosé — ＡＢＣ ﬁne 日本語 e\u0301", 4: "\u202eevil\u202c \u0000 \U0001f339"},
    {5: ""},
]


@pytest.mark.parametrize("notes", NOTES)
def test_notes(run: Run, notes: dict[int, str]) -> None:
    listed = [[number, text] for number, text in notes.items()]
    assert run(f"{CODE}\nreturn notesDigest(given);", listed) == notes_digest(notes)


def test_notes_are_found_in_the_message(run: Run) -> None:
    notes = {1: "No lilies, please", 12: "By the door, “on the left”: not: in [brackets]"}
    listed = [[number, text] for number, text in notes.items()]
    lines = run(f"{CODE}\nreturn given.map(([piece, text]) => noteLine(piece, text)).join('\\n');", listed)
    assert notes_in(lines) == notes
    assert notes_digest(notes_in("> " + lines.replace(" ", "\n>  "))) == notes_digest(notes)
