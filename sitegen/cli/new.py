"""`sitegen new`: what was written, and what to type next."""

import argparse
from pathlib import Path

from sitegen.cli.exits import DONE, USAGE, Stop, say, say_json
from sitegen.report import finding, text
from sitegen.start import starter, write


def begin(options: argparse.Namespace) -> int:
    """Write an event's starter; where there is no studio yet, one too. Nothing is ever overwritten."""
    content: Path = options.content
    begun = starter(content, options.event, options.today, content.as_posix())
    if begun.refusal:
        raise Stop(begun.refusal, USAGE)
    write(content, begun.files)
    names = [str(content / name) for name in begun.files]
    if options.json:
        say_json({"ok": True, "written": names})
        return DONE
    for name in names:
        say(f"Wrote {name}")
    for problem in begun.noted[:1]:
        say("\n" + text(finding(problem)) + "\n", error=True)
    say("Open  them in your editor; each line says what it is for")
    where = "" if content == Path("content") else f" --content {content}"
    say(f"Next  sitegen preview {options.event}{where}")
    return DONE
