"""`sitegen reply`: what a couple sent, told from what is cut, damaged, forged or stale; then recorded."""

import argparse
import sys
from collections.abc import Callable, Sequence
from dataclasses import replace
from pathlib import Path
from typing import Any

from sitegen.build.quick import Survey
from sitegen.build.sealed import key_store
from sitegen.cli.exits import CONTENT, DONE, OUTSIDE, USAGE, Stop, say, say_json
from sitegen.cli.recording import ask, journal_of, recorded
from sitegen.records.agreed import last_reply
from sitegen.records.journal import Record
from sitegen.reply.beside import beside, own_sentences
from sitegen.reply.find import find, together
from sitegen.reply.judge import TAKEN, Judged, Verdict, judge_all
from sitegen.reply.mail import LARGEST, texts_in
from sitegen.reply.notes import notes_in, shown
from sitegen.reply.telling import BROKEN, NO_CODE, compared, told
from sitegen.seal.keys import Secrets
from sitegen.seal.store import find as find_key
from sitegen.values.money import Currency

_MOST_SHOWN = 40  # lines of a message without a code


def reply(options: argparse.Namespace, survey: Survey) -> int:
    """Read a reply, say what it is, and record the one that counts."""
    texts = texts_in(_given(options.file))
    found = together(map(find, texts))
    notes = next(filter(None, map(notes_in, texts)), {})
    records = _remembered(survey)
    judged = [
        _with_words(one, texts, len(found.whole))
        for one in judge_all(found.whole, _keys(survey), records, notes)
    ]
    if not options.json:
        _say_all(judged, records, survey)
        for broken in found.broken:
            say(BROKEN[broken])
        if not judged and not found.broken:
            _say_text(texts)
    chosen = _chosen(judged, options)
    if chosen and _counts_already(chosen, records):
        if not options.json:
            say("Nothing was recorded: it is the last that was recorded, and counts.")
        chosen = None
    number = _record(chosen, survey, options) if chosen else None
    if options.json:
        codes = [_plain(one, records) for one in judged]
        say_json({"codes": codes, "broken": [str(one) for one in found.broken], "recorded": number})
    return DONE if any(one.verdict in TAKEN for one in judged) else CONTENT


def _with_words(judged: Judged, texts: Sequence[str], codes: int) -> Judged:
    """Keep with a reply what was written beside it, where it is the only one of its message."""
    reply, revision = judged.reply, judged.revision
    if reply is None or revision is None or codes > 1:
        return judged
    own = own_sentences(revision.snapshot.shown, reply.picks, reply.shown)
    return replace(judged, reply=replace(reply, beside=beside(texts[0], own)))


def _given(file: Path | None) -> bytes:
    if file is not None and str(file) != "-":
        if not file.is_file():
            raise Stop(f'there is no file "{file}"', USAGE)
        with file.open("rb") as stream:
            data = stream.read(LARGEST + 1)
    else:
        if sys.stdin.isatty():
            say("Paste the message, then end it with Ctrl-D on a line of its own.", error=True)
        data = sys.stdin.buffer.read(LARGEST + 1)
    if len(data) > LARGEST:
        raise Stop("that is more than a message holds; save the part with the code as a file", USAGE)
    return data


def _keys(survey: Survey) -> dict[str, Secrets]:
    store = key_store(survey.settings.home)
    found = {files.id: find_key(store, files.id) for files in survey.tree.events}
    return {event: own for event, own in found.items() if isinstance(own, Secrets)}


def _remembered(survey: Survey) -> Callable[[str], Sequence[Record]]:
    """Give the records of an event, each read once. A journal with errors stops everything."""
    known: dict[str, Sequence[Record]] = {}

    def records(event: str) -> Sequence[Record]:
        if event not in known:
            known[event] = journal_of(survey, event).records
        return known[event]

    return records


def _say_all(judged: Sequence[Judged], records: Callable[[str], Sequence[Record]], survey: Survey) -> None:
    for i, one in enumerate(judged, 1):
        head = f"{i}. " if len(judged) > 1 else ""
        of_event = records(one.event) if one.event and one.verdict in TAKEN else ()
        lines = told(one, of_event, survey.settings.today)
        say(head + "\n".join(lines) + "\n")


def _say_text(texts: Sequence[str]) -> None:
    lines = [line for text in texts[:1] for line in text[:20_000].splitlines() if line.strip()]
    say("What it says, as text:\n")
    for line in lines[:_MOST_SHOWN]:
        say(f"  {shown(line, 200)}")
    say(f"\n{NO_CODE}")


def _chosen(judged: Sequence[Judged], options: argparse.Namespace) -> Judged | None:
    """Say which reply counts: the one named, or the only one that nothing speaks against; else ask."""
    if options.take is not None:
        take: int = options.take
        if not 1 <= take <= len(judged) or judged[take - 1].verdict not in TAKEN:
            raise Stop(f"there is no reply number {take} to record", USAGE)
        return judged[take - 1]
    fit = _last_of_each_phone([one for one in judged if one.verdict is Verdict.VALID])
    if options.yes:
        return _only(fit, judged)
    open_ones = fit or [one for one in judged if one.verdict in {Verdict.STALE, Verdict.OLDER}]
    for one in open_ones if not options.json else ():
        which = f" number {judged.index(one) + 1}" if len(judged) > 1 else ""
        answer = ask(f"Record reply{which}?")
        if answer is None:
            say(f"Nothing was recorded. To record it: sitegen reply --take {judged.index(one) + 1} FILE")
            return None
        if answer:
            return one
    return None


def _counts_already(chosen: Judged, records: Callable[[str], Sequence[Record]]) -> bool:
    """Say whether this very reply is what counts; one that another overtook may be taken to count again."""
    last = last_reply(records(chosen.event))
    known = chosen.verdict is Verdict.REPEATED and chosen.same is not None
    return known and last is not None and last.reply.code == (chosen.reply.code if chosen.reply else "")


def _only(fit: Sequence[Judged], judged: Sequence[Judged]) -> Judged | None:
    """The one reply that a script may record without anybody looking.

    Where one phone's is recorded already, that was somebody's choice, and no later run takes the other's.
    """
    events = {one.event for one in fit}
    if len(events) > 1:
        raise Stop("it holds replies of several events; record each with --take N", CONTENT)
    known = [one for one in judged if one.verdict is Verdict.REPEATED and one.event in events]
    if fit and len(_last_of_each_phone([*known, *fit])) > 1:
        raise Stop("two phones sent different replies; say which counts with --take N", CONTENT)
    if fit and fit[0].alarm:
        raise Stop("the total on their page differs; look at it, and record it with --take 1", CONTENT)
    if not fit and any(one.verdict in {Verdict.STALE, Verdict.OLDER} for one in judged):
        raise Stop("it answers what is no longer current; record it with --take N if it still holds", CONTENT)
    return fit[0] if fit else None


def _last_of_each_phone(fit: Sequence[Judged]) -> list[Judged]:
    """Of several replies of one phone only the last counts; those that pick the same are one."""
    last: dict[Any, Judged] = {}
    for one in fit:
        if one.reply is not None:
            known = last.get((one.event, one.reply.phone))
            if known is None or known.reply is None or known.reply.turn < one.reply.turn:
                last[one.event, one.reply.phone] = one
    picked = {(one.event, one.reply.picks if one.reply else None): one for one in reversed(last.values())}
    return list(reversed(picked.values()))


def _record(chosen: Judged, survey: Survey, options: argparse.Namespace) -> int:
    if chosen.reply is None:
        raise Stop("there is nothing to record", OUTSIDE)
    journal = recorded(survey, chosen.event, "reply", chosen.reply)
    last = journal.records[-1]
    if not options.json:
        say(f"Recorded {journal.shown}/{last.name}")
        say(
            f"Next  sitegen approve {chosen.event}, once you both agree; sitegen build, to see it on the desk"
        )
    return last.number


def _plain(judged: Judged, records: Callable[[str], Sequence[Record]]) -> dict[str, Any]:
    said: dict[str, Any] = {"verdict": str(judged.verdict), "event": judged.event or None}
    if judged.reply is None or judged.revision is None:
        return said
    table = judged.revision.snapshot.shown.table
    money = Currency(judged.revision.snapshot.shown.currency, table.digits)
    against = compared(judged, records(judged.event))
    found = against.found
    rows = [{"name": row.name, "what": list(row.what), "moved": money.text(row.moved)} for row in found.rows]
    return {
        **said,
        "revision": judged.reply.revision,
        "phone": judged.reply.phone,
        "turn": judged.reply.turn,
        "total": money.text(judged.reply.total),
        "shown": money.text(judged.reply.shown),
        "alarm": judged.alarm,
        "against": against.what,
        "was": money.text(found.total.was),
        "changes": rows,
        "notes": [{"piece": note.piece, "text": note.text} for note in judged.reply.notes],
        "notes_whole": judged.reply.noted_whole,
        "beside": judged.reply.beside,
    }
