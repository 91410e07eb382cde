"""`sitegen new`: what was written, and what to type next."""

import argparse
from pathlib import Path

from sitegen.cli.exits import DONE, USAGE, Stop, say, say_json
from sitegen.report import finding, text
from sitegen.start import copied_theme, starter, write


def begin(options: argparse.Namespace) -> int:
    """Write an event's starter; where there is no studio yet, one too. Nothing is ever overwritten."""
    content: Path = options.content
    if (options.theme is None) == (options.event is None):
        raise Stop("name an event, 2027-06-12-fern-hollow, or a theme with --theme", USAGE)
    if options.theme is not None:
        return _theme(options, content)
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


def _theme(options: argparse.Namespace, content: Path) -> int:
    """Copy a theme to change; it stands in for the shipped one of its name."""
    copied = copied_theme(content, options.theme)
    if copied.refusal:
        raise Stop(copied.refusal, USAGE)
    home = content.resolve().parent
    write(home, copied.files)
    names = [str(home / name) for name in copied.files]
    if options.json:
        say_json({"ok": True, "written": names})
        return DONE
    for name in names:
        say(f"Wrote {name}")
    say(f"Next  write theme: {options.theme} in studio.md or event.md, then sitegen preview")
    return DONE
