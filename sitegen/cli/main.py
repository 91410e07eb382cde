"""Arguments, and which command they mean."""

import argparse
import datetime as dt
import os
import sys
from collections.abc import Sequence
from pathlib import Path

from sitegen import __version__
from sitegen.cli import commands, consultation, order, sending
from sitegen.cli.arguments import Commands
from sitegen.cli.exits import OUTSIDE, USAGE, Stop, say, say_json
from sitegen.values.number import Unreadable
from sitegen.values.when import date

_ABOUT = "Event folders of Markdown, photos and recipes become a florist's proposal and the order behind it."
_CODES = "Exit codes: 0 done, 1 problems in the content, 2 wrong usage, 3 the disk or a host failed."


def run(arguments: Sequence[str]) -> int:
    """Run one command and give its exit code."""
    parser = _parser()
    options = parser.parse_args(arguments)
    if options.command is None:
        parser.print_help()
        return USAGE
    try:
        options.today = _today(options.today)
        options.now = int(dt.datetime.now(dt.UTC).timestamp())
        return int(options.command(options))
    except Stop as stop:
        _failed(options, str(stop), f"sitegen: {stop}")
        return stop.code
    except KeyboardInterrupt:
        say("\nsitegen: stopped; no file is half written, and running it again carries on", error=True)
        return 130
    except BrokenPipeError:
        # Whoever read our output has gone, as `head` does; nothing is left to say.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return OUTSIDE
    except OSError as error:
        where = f" ({error.filename})" if error.filename else ""
        _failed(
            options,
            f"{error.strerror or error}{where}",
            f"sitegen: {error.strerror or error}{where}; no file is half written",
        )
        return OUTSIDE


def _failed(options: argparse.Namespace, what: str, said: str) -> None:
    """Tell a person on the error stream, and a machine that asked for JSON; no key of a link is repeated."""
    from sitegen.seal.redact import redact

    say(redact(said), error=True)
    if getattr(options, "json", False):
        say_json({"ok": False, "error": redact(what)})


def _today(given: str | None) -> dt.date:
    """The one door through which the day enters: the option, else SITEGEN_TODAY, else the clock."""
    text = given or os.environ.get("SITEGEN_TODAY")
    if not text:
        return dt.datetime.now().astimezone().date()
    try:
        return date(text)
    except Unreadable:
        raise Stop(f'"{text}" is not a day; write it as 2027-06-12', USAGE) from None


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(prog="sitegen", description=_ABOUT, epilog=_CODES)
    parser.add_argument("--version", action="version", version=f"sitegen {__version__}")
    parser.set_defaults(command=None, today=None)
    commands_of = parser.add_subparsers(title="commands", metavar="COMMAND")
    common, writing = _common(), _writing()

    build = commands_of.add_parser(
        "build", parents=[common, writing], help="compile everything, or the events named"
    )
    build.add_argument(
        "events", nargs="*", metavar="EVENT", help="any part of a folder's name that only one has"
    )
    build.add_argument(
        "--one-file", action="store_true", help="also write a single page to mail, pictures inside"
    )
    build.set_defaults(command=commands.build)

    _preview(commands_of, [common, writing])
    check = commands_of.add_parser(
        "check", parents=[common], help="read everything, report every problem, write nothing"
    )
    check.add_argument("events", nargs="*", metavar="EVENT", help="tell of these and the shared files alone")
    check.add_argument("--schemas", type=Path, metavar="DIR", help="write JSON Schemas for editors to DIR")
    check.set_defaults(command=commands.check)

    new = commands_of.add_parser(
        "new", parents=[common], help="start an event from a commented starter, or a whole studio"
    )
    new.add_argument(
        "event", metavar="EVENT", nargs="?", help="the new folder's name: 2027-06-12-fern-hollow"
    )
    new.add_argument("--theme", metavar="NAME", help="copy a theme instead, to change it")
    new.set_defaults(command=commands.new)

    _looking(commands_of, common, writing)
    sending.add(commands_of, [common, writing])
    sending.add_keys(commands_of, common)
    consultation.add(commands_of, [common])
    return parser


def _preview(commands_of: Commands, parents: list[argparse.ArgumentParser]) -> None:
    preview = commands_of.add_parser(
        "preview", parents=parents, help="serve the desk here; pages reload on save"
    )
    preview.add_argument("events", nargs="?", metavar="EVENT", help="open this event's page")
    preview.add_argument("--port", type=int, default=5500, help="port on 127.0.0.1 (%(default)s)")
    preview.add_argument("--no-open", action="store_true", help="open no browser")
    applied = preview.add_mutually_exclusive_group()
    applied.add_argument("--fit", metavar="N", help="show EVENT's proposal as it fits a budget of N")
    applied.add_argument(
        "--reply", type=int, metavar="N", help="show it at the choices of the reply of record N"
    )
    preview.set_defaults(command=commands.preview)


def _looking(
    commands_of: Commands, common: argparse.ArgumentParser, writing: argparse.ArgumentParser
) -> None:
    """The commands that show how a price comes about, and what to buy."""
    why = commands_of.add_parser("why", parents=[common], help="how a price comes about, line by line")
    why.add_argument("event", metavar="EVENT")
    why.add_argument("piece", metavar="PIECE", help="any part of a piece's name that only one has")
    why.add_argument("--answers", metavar="CHOICE=ANSWER", nargs="+", default=[], help="at these answers")
    why.set_defaults(command=commands.why)

    order.add(commands_of, [common, writing])


def _common() -> argparse.ArgumentParser:
    common = argparse.ArgumentParser(add_help=False)
    common.add_argument(
        "--content", type=Path, default=Path("content"), metavar="DIR", help="content folder (./content)"
    )
    common.add_argument(
        "--today", metavar="DAY", default=None, help="work as if it were this day (2027-06-12)"
    )
    common.add_argument("--json", action="store_true", help="answer in JSON, for machines")
    return common


def _writing() -> argparse.ArgumentParser:
    writing = argparse.ArgumentParser(add_help=False)
    writing.add_argument("--out", type=Path, default=Path("out"), metavar="DIR", help="output folder (./out)")
    return writing
