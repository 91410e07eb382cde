"""The arguments of the commands by which a page goes out, and of those that keep its keys."""

import argparse

from sitegen.cli import commands
from sitegen.cli.arguments import Commands, let_starter_words


def add(commands_of: Commands, parents: list[argparse.ArgumentParser]) -> None:
    """The commands by which a page goes out and comes down."""
    publish = commands_of.add_parser(
        "publish", parents=parents, help="send an event's sealed page to its host"
    )
    publish.add_argument("events", metavar="EVENT")
    publish.add_argument("--dry-run", action="store_true", help="say what would be sent, and send nothing")
    publish.add_argument("--verify", action="store_true", help="compare what is live with what was sent")
    publish.add_argument("--recheck", action="store_true", help="read every file at the host, and mend it")
    publish.add_argument(
        "--take-over", action="store_true", help="replace a page that was not sent from here, or a newer one"
    )
    publish.add_argument(
        "--allow", metavar="VALUE", action="append", default=[], help="let this private value go out"
    )
    publish.add_argument(
        "--fresh", action="store_true", help="send every file anew, so that nobody sees which stayed the same"
    )
    publish.add_argument(
        "--history", action="store_true", help="send although a version history keeps what is withdrawn"
    )
    let_starter_words(publish)
    publish.set_defaults(command=commands.publish)

    link = commands_of.add_parser(
        "link", parents=parents, help="the private link, and a message to send with it"
    )
    link.add_argument("events", metavar="EVENT")
    link.add_argument("--renew", action="store_true", help="another link; the old page is taken down")
    words = link.add_mutually_exclusive_group()
    words.add_argument(
        "--phrase",
        action="store_true",
        default=None,
        help="the page asks for four words as well",
    )
    words.add_argument(
        "--no-phrase", action="store_false", dest="phrase", help="let the link alone open it again"
    )
    link.add_argument("--view-only", action="store_true", help="a link that shows the page and cannot answer")
    link.set_defaults(command=commands.link)

    withdraw = commands_of.add_parser("withdraw", parents=parents, help="take an event's page down")
    withdraw.add_argument("events", metavar="EVENT")
    withdraw.set_defaults(command=commands.withdraw)


def add_keys(commands_of: Commands, common: argparse.ArgumentParser) -> None:
    """The commands that keep a backup of the keys."""
    keys = commands_of.add_parser("keys", help="write a backup of the keys, or take them in from one")
    which = keys.add_subparsers(title="commands", metavar="COMMAND", required=True)
    export = which.add_parser("export", parents=[common], help="all keys in one file, sealed with six words")
    export.add_argument("file", metavar="FILE")
    export.set_defaults(command=commands.export_keys)
    taken = which.add_parser("import", parents=[common], help="take in what is missing here")
    taken.add_argument("file", metavar="FILE")
    taken.add_argument(
        "--also", metavar="EVENT", action="append", default=[], help="also put this event's key in place"
    )
    taken.set_defaults(command=commands.import_keys)
