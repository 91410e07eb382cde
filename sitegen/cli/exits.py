"""Exit codes, and the one way to say something."""

import json
import sys
from typing import Any

DONE = 0
CONTENT = 1
USAGE = 2
OUTSIDE = 3


class Stop(Exception):
    """Ends a command with one sentence and an exit code."""

    def __init__(self, sentence: str, code: int) -> None:
        super().__init__(sentence)
        self.code = code


def say(text: str, *, error: bool = False) -> None:
    """Print *text*; a terminal that lacks a letter gets a question mark in its place."""
    stream = sys.stderr if error else sys.stdout
    encoding = stream.encoding or "utf-8"
    stream.write(text.encode(encoding, "replace").decode(encoding) + "\n")
    stream.flush()


def say_json(data: Any) -> None:
    """Print *data* as one JSON document."""
    sys.stdout.write(json.dumps(data, ensure_ascii=False, indent=1) + "\n")
