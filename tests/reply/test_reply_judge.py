"""Codes of one message, judged together."""

import datetime as dt
from pathlib import Path

from sitegen.choices.picks import usual_picks
from sitegen.choices.totals import totals
from sitegen.price.event import price_event
from sitegen.records.journal import Journal
from sitegen.records.revisions import KINDS, as_if_sent
from sitegen.records.snapshot import snapshot
from sitegen.reply.code import Said, write_code
from sitegen.reply.find import find
from sitegen.reply.judge import judge_all
from sitegen.reply.notes import notes_digest
from sitegen.seal.keys import Secrets, keys_of
from tests.make import event, shared, stem

KEYS = {name: Secrets(name.encode() * 4, name.encode() * 4) for name in ("barn", "lawn")}
SHOWN = snapshot(price_event(shared(stems={"rose": stem("100", "3")}), event({"recipe": {"rose": "3"}})))
RECORDS = as_if_sent(Journal(Path("records"), "records", KINDS), SHOWN, dt.date(2031, 6, 1)).records


def code(name: str, notes: dict[int, str]) -> str:
    table, own = SHOWN.shown.table, KEYS[name]
    picks = usual_picks(table)
    said = Said(1, 7, 0, notes_digest(notes), totals(table, picks).total, picks)
    return write_code(keys_of(own).reply or b"", own.pid, table, said)


def test_notes_that_one_code_proves_are_not_those_of_another_event() -> None:
    notes = {1: "No lilies"}
    codes = find(f"{code('barn', notes)}\n\n{code('lawn', {})}").whole
    barn, lawn = judge_all(codes, KEYS, lambda _: RECORDS, notes)
    assert (barn.event, lawn.event) == ("barn", "lawn")
    assert barn.reply is not None
    assert lawn.reply is not None
    assert [note.text for note in barn.reply.notes] == ["No lilies"]
    assert (lawn.reply.notes, lawn.reply.noted_whole) == ((), True)
