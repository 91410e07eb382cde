"""The commands of a consultation: their arguments, and what each does."""

import argparse
from collections.abc import Sequence
from pathlib import Path

from sitegen.build.quick import Survey, survey
from sitegen.cli import commands, picking
from sitegen.cli.arguments import Commands, let_starter_words


def add(commands_of: Commands, parents: Sequence[argparse.ArgumentParser]) -> None:
    """Add `reply`, `send`, `approve`, `compare` and `fit` to the commands."""
    reply = commands_of.add_parser("reply", parents=parents, help="read a couple's reply, and record it")
    reply.add_argument(
        "file", nargs="?", type=Path, metavar="FILE", help="a mail or text; else standard input"
    )
    reply.add_argument(
        "--yes", action="store_true", help="record it without asking, if nothing is against it"
    )
    reply.add_argument("--take", type=int, metavar="N", help="record the reply with that number")
    reply.set_defaults(command=_reply)

    send = commands_of.add_parser(
        "send", parents=parents, help="make a revision, and a message that says why"
    )
    send.add_argument("event", metavar="EVENT")
    let_starter_words(send)
    send.set_defaults(command=_send)

    approve = commands_of.add_parser("approve", parents=parents, help="freeze what was agreed")
    approve.add_argument("event", metavar="EVENT")
    approve.add_argument("--revision", type=int, metavar="N", help="this revision, by hand: needs --why")
    approve.add_argument(
        "--pick", nargs="+", action="extend", default=[], metavar="PICK", help=f"by hand: {picking.HELP}"
    )
    approve.add_argument("--why", metavar="TEXT", help="how it was agreed, or why it is withdrawn")
    approve.add_argument("--withdraw", action="store_true", help="the approval holds no longer: needs --why")
    approve.add_argument("--yes", action="store_true", help="do not ask")
    let_starter_words(approve)
    approve.set_defaults(command=_approve)

    compare = commands_of.add_parser("compare", parents=parents, help="what changed, in words and money")
    compare.add_argument("event", metavar="EVENT")
    compare.add_argument(
        "revisions",
        nargs="*",
        type=int,
        metavar="REV",
        help="two revisions; one, or none: against the content",
    )
    compare.set_defaults(command=_compare)
    _fit_arguments(commands_of, parents)


def _fit_arguments(commands_of: Commands, parents: Sequence[argparse.ArgumentParser]) -> None:
    fit = commands_of.add_parser(
        "fit", parents=parents, help="the choices that keep the most at or under a budget"
    )
    fit.add_argument("event", metavar="EVENT")
    fit.add_argument("--budget", metavar="N", help="in whole units of the currency; else the event's own")
    fit.set_defaults(command=_fit)


def _survey(options: argparse.Namespace) -> Survey:
    return survey(commands.settings_of(options))


def _reply(options: argparse.Namespace) -> int:
    from sitegen.cli.reply import reply

    return reply(options, _survey(options))


def _send(options: argparse.Namespace) -> int:
    from sitegen.cli.send import send

    return send(options, _survey(options))


def _approve(options: argparse.Namespace) -> int:
    from sitegen.cli.approve import approve

    return approve(options, _survey(options))


def _compare(options: argparse.Namespace) -> int:
    from sitegen.cli.compare import compare

    return compare(options, _survey(options))


def _fit(options: argparse.Namespace) -> int:
    from sitegen.cli.fit import fit

    return fit(options, _survey(options))
