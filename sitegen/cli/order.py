"""`sitegen order`: its arguments, and what it says of the sheets that a build writes."""

import argparse
from collections.abc import Sequence
from pathlib import Path

from sitegen.build.quick import Survey
from sitegen.cli import commands
from sitegen.cli.arguments import Commands
from sitegen.cli.exits import CONTENT, DONE, USAGE, Stop, say, say_json

_PAGES = (
    "order.html",
    "agreed.html",
    "for-you-to-make.html",
    "labels-10.html",
    "labels-21.html",
    "calendar.ics",
)


def add(commands_of: Commands, parents: Sequence[argparse.ArgumentParser]) -> None:
    """Add `order` to the commands."""
    order = commands_of.add_parser("order", parents=parents, help="write the order of an event, to print")
    order.add_argument("events", nargs="+", metavar="EVENT")
    order.add_argument("--pdf", action="store_true", help="also print each sheet to a PDF, with a Chromium")
    order.add_argument("--paper", choices=("a4", "letter"), help="for --pdf; the studio's is the default")
    order.add_argument(
        "--placed", action="store_true", help="record that it was bought; afterwards only changes are ordered"
    )
    order.add_argument("--undo", action="store_true", help="with --placed: the last one was not placed")
    order.add_argument("--why", metavar="TEXT", help="with --undo: why, for the record")
    order.add_argument("--yes", action="store_true", help="record it without asking")
    order.add_argument(
        "--only",
        metavar="SUPPLIER,…",
        help="say what it would cost from these suppliers; writes nothing",
    )
    order.add_argument("--without", metavar="SUPPLIER,…", help="say what it would cost without these")
    order.add_argument(
        "--together", action="store_true", help="buy for all of them as one order, shared out to each"
    )
    order.set_defaults(command=_order)


def _order(options: argparse.Namespace) -> int:
    """Write the order of events; it stands beside the other pages of each."""
    if options.only or options.without:
        return _compared(options)
    if options.undo and not options.placed:
        raise Stop("--undo takes a placed order back: --placed --undo", USAGE)
    joint = _joint(options) if options.together else None
    placed = _recorded(options) if options.placed else {}
    found, outcome = commands.built(options)
    if not outcome.ok:
        if options.json:
            say_json({**commands.as_json(found, outcome), **placed})
        return CONTENT
    desk = options.out / "desk"
    if not options.json:
        _say_written(desk, found.wanted, joint)
        _say_nothing_to_send(desk, found.wanted if options.placed and not options.undo else ())
    printed = _printed(options, found, desk, joint) if options.pdf else []
    if options.json:
        files = {"pdf": [str(path) for path in printed]} if options.pdf else {}
        page = {"together": str(joint)} if joint else {}
        say_json({**commands.as_json(found, outcome), **page, **placed, **files})
    else:
        _say_printed(printed)
    return DONE


def _compared(options: argparse.Namespace) -> int:
    """Only say what other suppliers would cost: what was written stays as it is."""
    if options.placed or options.pdf or options.together:
        raise Stop("--only and --without only compare; leave out --placed, --pdf and --together", USAGE)
    from sitegen.cli.choosing import compare

    return compare(options, commands.survey_of(options))


def _joint(options: argparse.Namespace) -> Path:
    """Say where the one order for all of the events will lie, once it is known that they can have one."""
    from sitegen.cli.placing import named_together

    name = named_together(options, commands.survey_of(options))
    page: Path = options.out / "desk" / "orders" / f"{name}.html"
    return page


def _recorded(options: argparse.Namespace) -> dict[str, object]:
    """Record what was bought, or that it was not, before the sheets are written that say so."""
    from sitegen.cli.placing import place, plain_of
    from sitegen.cli.unplacing import unplace

    if options.undo:
        done = unplace(options, commands.survey_of(options))
        return {"undone": [{"event": one.event, "undone": one.undone, "record": one.record} for one in done]}
    return {"placed": plain_of(place(options, commands.survey_of(options)))}


def _printed(options: argparse.Namespace, found: Survey, desk: Path, joint: Path | None) -> list[Path]:
    """Print the sheets of each event on the paper that was asked for, else on the studio's."""
    from sitegen.check.shared import check_shared
    from sitegen.cli.printing import print_event, print_sheets

    shared = check_shared(found.tree).shared
    paper = options.paper or (shared.studio.paper if shared else "a4")
    own = [path for event in found.wanted for path in print_event(desk / event, paper, quiet=options.json)]
    return [*own, *(print_sheets(joint, paper, quiet=options.json) if joint else ())]


def _say_written(desk: Path, events: Sequence[str], joint: Path | None) -> None:
    if joint is not None:
        say(f"Wrote {joint}")
        for path in sorted(joint.parent.glob(f"{joint.stem}-*.csv")):
            say(f"      {path}")
    for event in events:
        first, *others = _written(desk / event)
        say(f"Wrote {first}")
        for path in others:
            say(f"      {path}")
    say("Open it and print; order.html#pull prints the pull list alone. --pdf prints each sheet to a file.")
    for event in events:
        if not _approved(desk / event):
            say(f"Every sheet of {event} says DRAFT: it has not been approved.")


def _say_nothing_to_send(desk: Path, placed: Sequence[str]) -> None:
    """Lists for suppliers say what they have to hear now: once it was placed, they are gone from the desk."""
    for event in placed:
        if not list((desk / event).glob("order-*.csv")):
            say(f"No order-….csv is left for {event}: there is nothing to send to anybody now.")


def _say_printed(printed: Sequence[Path]) -> None:
    for i, path in enumerate(printed):
        say(f"{'      ' if i else 'PDF   '}{path}")


def _written(folder: Path) -> list[Path]:
    """Give the files of an order that are there: the studio's sheets, then what goes to others."""
    pages = [folder / name for name in _PAGES if (folder / name).is_file()]
    return [*pages, *sorted(folder.glob("order-*.csv"))]


def _approved(folder: Path) -> bool:
    """Whether an event's sheets, as they were built, are of something approved; a past one may be either."""
    return 'class="draft"' not in (folder / "order.html").read_text(encoding="utf-8")
