"""`sitegen keys`: the keys in one sealed file, out and in again."""

import argparse
import getpass
import os
import sys
from pathlib import Path

from sitegen.build.sealed import key_store
from sitegen.build.settings import Settings
from sitegen.cli.exits import CONTENT, DONE, OUTSIDE, USAGE, Stop, say, say_json
from sitegen.seal.backup import TAKEN, Arrival, Verdict, arrivals, take_in, unpacked
from sitegen.seal.failure import Failure
from sitegen.seal.saved import back_up, note_backup
from sitegen.seal.store import KeyFault
from sitegen.values import atomic

_SAID = {
    Verdict.NEW: "taken in",
    Verdict.SAME: "the same as here",
    Verdict.LATER: "taken in: it was renewed after the one here, which is kept beside it",
    Verdict.MENDS: "taken in: the file here could not be read, and is kept beside it",
    Verdict.EARLIER: "left: the one here was renewed later; --also {event} brings the old link back",
    Verdict.OTHER: "left: the one here is another; --also {event} puts this one in its place",
}
_WRONG = {
    Failure.FOREIGN: "is no backup of keys",
    Failure.NEWER: "was written by a newer sitegen; install that here too",
    Failure.NO_PHRASE: "opens with the six words that were shown when it was written",
    Failure.WRONG_PHRASE: "does not open with these words",
}


def export(options: argparse.Namespace, settings: Settings) -> int:
    """Write all keys to a new file, sealed with words that are shown once."""
    store, path = key_store(settings.home), Path(options.file)
    if path.exists():
        raise Stop(f"{path} is there already, and is not overwritten; name another file", USAGE)
    backup = back_up(store)
    if not backup.keys:
        raise Stop("there are no keys yet; sitegen build makes them", USAGE)
    atomic.put(path, backup.data)
    path.chmod(0o600)
    note_backup(store, backup, options.today)
    if options.json:
        say_json(
            {"ok": not backup.faults, "file": str(path), "keys": sorted(backup.keys), "phrase": backup.phrase}
        )
    else:
        one = len(backup.keys) == 1
        say(f"Wrote {path}: {'the key of 1 event' if one else f'the keys of {len(backup.keys)} events'}.")
        say(f"\n  {backup.phrase}\n")
        say("These six words open it, and stand nowhere else: write them on paper, away from the file.")
    for fault in backup.faults:
        say(f"The key of {fault.event} is {fault.trouble}, and not in it: {fault.path}", error=True)
    return OUTSIDE if backup.faults else DONE


def take(options: argparse.Namespace, settings: Settings) -> int:
    """Read a backup and take in what is missing here; whatever else is there stays, unless it is named."""
    store, path = key_store(settings.home), Path(options.file)
    keys = unpacked(path.read_bytes(), _phrase())
    if isinstance(keys, Failure):
        raise Stop(f"{path} {_WRONG.get(keys, f'is {keys}')}; nothing was changed", CONTENT)
    found = arrivals(store, keys)
    faults = take_in(store, found, options.also)
    if options.json:
        say_json({"ok": not faults, "keys": {one.event: str(one.verdict) for one in found}})
    for one in found if not options.json else ():
        say(f"{one.event}: {_told(one, options.also)}")
    for fault in faults:
        say(_not_written(fault), error=True)
    if not options.json:
        say("Next  sitegen build")
    return OUTSIDE if faults else DONE


def _told(one: Arrival, also: list[str]) -> str:
    if one.event in also and one.verdict not in TAKEN and one.verdict is not Verdict.SAME:
        return "taken in as you asked; the one here is kept beside it"
    return _SAID[one.verdict].format(event=one.event)


def _not_written(fault: KeyFault) -> str:
    return f"The key of {fault.event} was not written: {fault.path} is {fault.trouble}."


def _phrase() -> str:
    """The six words: from the environment, a terminal that shows none of them, or standard input."""
    given = os.environ.get("SITEGEN_PHRASE")
    if given:
        return given
    if sys.stdin.isatty():
        return getpass.getpass("The six words: ")
    return sys.stdin.readline()
