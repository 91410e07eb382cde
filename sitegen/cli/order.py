"""`sitegen order`: its arguments, and what it says of the sheets that a build writes."""

import argparse
from collections.abc import Sequence
from pathlib import Path
from typing import TypeAlias

from sitegen.cli import commands
from sitegen.cli.exits import CONTENT, DONE, say, say_json

Commands: TypeAlias = "argparse._SubParsersAction[argparse.ArgumentParser]"  # noqa: SLF001 - it has no public name


def add(commands_of: Commands, parents: Sequence[argparse.ArgumentParser]) -> None:
    """Add `order` to the commands."""
    order = commands_of.add_parser("order", parents=parents, help="write the order of an event, to print")
    order.add_argument("events", nargs="+", metavar="EVENT")
    order.set_defaults(command=_order)


def _order(options: argparse.Namespace) -> int:
    """Write the order of events; it stands beside the other pages of each."""
    found, outcome = commands.built(options)
    if options.json:
        say_json(commands.as_json(found, outcome))
    elif outcome.ok:
        _say_written(options.out / "desk", found.wanted)
    return DONE if outcome.ok else CONTENT


def _say_written(desk: Path, events: Sequence[str]) -> None:
    for event in events:
        say(f"Wrote {desk / event / 'order.html'}")
        for name in sorted((desk / event).glob("order-*.csv")):
            say(f"      {name}")
    say("Open it and print; order.html#pull prints the pull list alone.")
    for event in events:
        if not _approved(desk / event):
            say(f"Every sheet of {event} says DRAFT: it has not been approved.")


def _approved(folder: Path) -> bool:
    """Whether an event's sheets, as they were built, are of something approved; a past one may be either."""
    return 'class="draft"' not in (folder / "order.html").read_text(encoding="utf-8")
