"""What all commands are added to."""

import argparse
from typing import TypeAlias

Commands: TypeAlias = "argparse._SubParsersAction[argparse.ArgumentParser]"  # noqa: SLF001 - it has no public name


def let_starter_words(command: argparse.ArgumentParser) -> None:
    """Add the flag of each command by which words become what a couple have from her."""
    command.add_argument(
        "--starter-words", action="store_true", help="go on although words of the starter still stand there"
    )
