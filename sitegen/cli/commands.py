"""What each command does: gather, call, say what was written and what to do next."""

import argparse
from collections.abc import Sequence
from pathlib import Path

from sitegen.build.quick import NoSuchEvent, Outcome, Survey, mended, one_of, survey, unchanged
from sitegen.build.settings import Settings
from sitegen.cli.exits import CONTENT, DONE, USAGE, Stop, say, say_json
from sitegen.cli.progress import watched
from sitegen.report import plain, whole

_NOTHING_WRITTEN = "Nothing was written."


def settings_of(options: argparse.Namespace) -> Settings:
    """Turn options into settings; a content folder that is not there is wrong usage."""
    content: Path = options.content
    if not content.is_dir():
        raise Stop(
            f'there is no folder "{content}"; name yours with --content, or run sitegen new EVENT', USAGE
        )
    out: Path = getattr(options, "out", Path("out"))
    if hasattr(options, "out") and out.resolve().is_relative_to(content.resolve()):
        raise Stop(f'"{out}" lies in the content folder; name another with --out', USAGE)
    named = getattr(options, "events", None) or ()
    return Settings(
        content=content.resolve(),
        out=out.resolve(),
        today=options.today,
        shown=content.as_posix(),
        events=(named,) if isinstance(named, str) else tuple(named),
        one_file=getattr(options, "one_file", False),
        together=getattr(options, "together", False),
    )


def build(options: argparse.Namespace) -> int:
    """Compile everything, or the named events."""
    found, outcome = built(options)
    if options.json:
        say_json(as_json(found, outcome))
    elif outcome.ok:
        _say_built(found, outcome, options)
    return DONE if outcome.ok else CONTENT


def built(options: argparse.Namespace) -> tuple[Survey, Outcome]:
    """Build what is stale of what *options* name, and say every problem; with JSON, they are the caller's."""
    settings = settings_of(options)
    if settings.one_file and not settings.events:
        raise Stop("name the event whose page is to be mailed: sitegen build EVENT --one-file", USAGE)
    found = _survey(settings)
    if found.nothing_to_do:
        outcome = unchanged(found)
    else:
        from sitegen.build.lock import locked
        from sitegen.build.run import build as run

        with locked(settings), watched(quiet=options.json) as progress:
            # Another build may have ended while this one waited: what it made is no longer to be made.
            found = mended(settings)
            outcome = unchanged(found) if found.nothing_to_do else run(found, progress)
    if not options.json and outcome.findings:
        closing = "" if outcome.ok else _NOTHING_WRITTEN
        say(whole(outcome.findings, closing), error=True)
    if not options.json and not getattr(options, "pdf", False):
        _say_unprinted(outcome.unprinted)
    return found, outcome


def _say_unprinted(pdfs: Sequence[str]) -> None:
    if pdfs:
        files = "1 PDF" if len(pdfs) == 1 else f"{len(pdfs)} PDFs"
        folders = ", ".join(dict.fromkeys(name.split("/")[0] for name in pdfs))
        say(f"Took away {files} of {folders}: the pages are others now. Again with sitegen order … --pdf")


def survey_of(options: argparse.Namespace) -> Survey:
    """Look at the content that *options* name. Raises `Stop` where they name no event."""
    return _survey(settings_of(options))


def _survey(settings: Settings) -> Survey:
    try:
        return survey(settings)
    except NoSuchEvent as unknown:
        raise Stop(str(unknown), USAGE) from None


def _say_built(found: Survey, outcome: Outcome, options: argparse.Namespace) -> None:
    desk = options.out / "desk"
    if not outcome.made:
        say(f"Nothing has changed: {_events(len(outcome.kept))} as before.")
    else:
        kept = f", {_events(len(outcome.kept))} kept as before" if outcome.kept else ""
        say(f"Wrote {_events(len(outcome.made))}{kept}: {outcome.files} files in {desk}.")
    shown = outcome.made or outcome.kept
    if len(shown) == 1:
        say(f"Open  {desk / shown[0] / 'proposal.html'}")
        say(f"      {desk / shown[0] / 'order.html'} to print")
        if found.settings.one_file:
            say(f"Mail  {desk / shown[0] / 'proposal-one-file.html'}")
    else:
        say(f"Open  {desk / 'index.html'}")
    say("Next  sitegen preview, to see every save at once")


def _events(number: int) -> str:
    return "1 event" if number == 1 else f"{number} events"


def as_json(found: Survey, outcome: Outcome) -> dict[str, object]:
    """Give what a build made as plain data."""
    return {
        "ok": outcome.ok,
        "out": str(found.settings.out),
        "made": list(outcome.made),
        "kept": list(outcome.kept),
        "files": outcome.files,
        "unprinted": list(outcome.unprinted),
        "problems": plain(outcome.findings),
    }


def check(options: argparse.Namespace) -> int:
    """Read everything, report every problem (named events: theirs), write nothing but schemas asked for."""
    settings = settings_of(options)
    if options.schemas is not None:
        return _write_schemas(options)
    from sitegen.build.inspect import inspect

    with watched(quiet=options.json) as progress:
        outcome = inspect(_survey(settings), progress)
    if options.json:
        say_json({"ok": outcome.ok, "problems": plain(outcome.findings)})
        return DONE if outcome.ok else CONTENT
    if outcome.findings:
        say(whole(outcome.findings, _NOTHING_WRITTEN), error=True)
    if outcome.ok:
        warned = "no errors" if outcome.findings else "no problems"
        say(f"Read {_events(len(outcome.kept))}: {warned}.")
        say("Next  sitegen build")
    return DONE if outcome.ok else CONTENT


def _write_schemas(options: argparse.Namespace) -> int:
    import json

    from sitegen.check.schemas import schemas

    folder: Path = options.schemas
    folder.mkdir(parents=True, exist_ok=True)
    names = []
    for name, schema in schemas().items():
        text = json.dumps(schema, ensure_ascii=False, indent=1, sort_keys=False) + "\n"
        (folder / name).write_text(text, encoding="utf-8")
        names.append(name)
    if options.json:
        say_json({"ok": True, "written": [str(folder / name) for name in names]})
    else:
        say(f"Wrote {len(names)} schemas to {folder}: {', '.join(names)}.")
        say("Next  point your editor's YAML settings at them")
    return DONE


def why(options: argparse.Namespace) -> int:
    """Say how the price of a piece comes about, with the place of each figure."""
    from sitegen.cli.why import explain

    settings = settings_of(options)
    found = _survey(settings)
    ids = [files.id for files in found.tree.events]
    try:
        event = one_of(options.event, ids, "event")
        return explain(found, event, options.piece, options.answers, as_json=options.json)
    except NoSuchEvent as unknown:
        raise Stop(str(unknown), USAGE) from None


def new(options: argparse.Namespace) -> int:
    """Start an event from a commented starter; in an empty folder, a studio too."""
    from sitegen.cli.new import begin

    return begin(options)


def preview(options: argparse.Namespace) -> int:
    """Serve the desk on this machine; every save shows at once."""
    from sitegen.preview.serve import serve

    settings = settings_of(options)
    found = _survey(settings)
    if options.fit is not None or options.reply is not None:
        from sitegen.cli.applying import applied

        settings = applied(settings, found, options)
    return serve(settings, options.port, say, open_browser=not options.no_open)


def publish(options: argparse.Namespace) -> int:
    """Send an event's sealed page to its host; or only plan it, or compare what is there."""
    from sitegen.cli.publish import publish as run

    settings = settings_of(options)
    _survey(settings)
    return run(options, settings)


def withdraw(options: argparse.Namespace) -> int:
    """Take an event's page down."""
    from sitegen.cli.withdraw import left_up
    from sitegen.cli.withdraw import withdraw as run

    settings = settings_of(options)
    return run(options, left_up(settings) or _survey(settings))


def link(options: argparse.Namespace) -> int:
    """Give the private link of an event, and messages to send with it."""
    from sitegen.cli.link import link as run

    settings = settings_of(options)
    _survey(settings)
    return run(options, settings)


def export_keys(options: argparse.Namespace) -> int:
    """Write a backup of all keys."""
    from sitegen.cli.keys import export

    return export(options, settings_of(options))


def import_keys(options: argparse.Namespace) -> int:
    """Take keys in from a backup."""
    from sitegen.cli.keys import take

    return take(options, settings_of(options))
