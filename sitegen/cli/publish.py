"""`sitegen publish`: what goes out, after a last look at the very bytes."""

import argparse
import shlex
from dataclasses import dataclass, replace

from sitegen.build.gate import Leak, leaks, opens_plain, opens_with
from sitegen.build.settings import Settings
from sitegen.cli.beforehand import freshen, older_note, stop_where_kept, stop_where_older
from sitegen.cli.carrying import carrying
from sitegen.cli.exits import CONTENT, DONE, OUTSIDE, USAGE, Stop, say, say_json
from sitegen.cli.outgoing import Outgoing, counted, history_note, now_of, ready, way_of
from sitegen.cli.unwritten import stop_at_starter_words
from sitegen.cli.withdraw import folderless, former_down, still_elsewhere
from sitegen.publish.fault import Stopped
from sitegen.publish.plan import Plan
from sitegen.publish.run import Published, plan_only
from sitegen.publish.run import publish as send
from sitegen.publish.verify import Verified
from sitegen.publish.verify import verify as compare
from sitegen.publish.way import Way
from sitegen.records.append import Overtaken
from sitegen.records.revisions import Revision, last_revision, make_revision, read_records
from sitegen.records.snapshot import changed_for_couple, snapshot
from sitegen.report import finding, whole
from sitegen.seal.base32 import encode
from sitegen.values.problem import has_errors


@dataclass(frozen=True, slots=True)
class How:
    """How to publish: *now* in seconds since 1970, private values that may go out, and what the flags say.

    *starter_words* may stand in it, and a *history* may keep it: both are asked of her before, and not again.
    """

    now: int
    allow: tuple[str, ...] = ()
    take_over: bool = False
    recheck: bool = False
    quiet: bool = False
    starter_words: bool = True
    history: bool = True


@dataclass(frozen=True, slots=True)
class Gone:
    """What went out: the revision that was made for it, if one was, and what to know."""

    going: Outgoing
    done: Published
    made: Revision | None
    notes: tuple[str, ...]


def publish(options: argparse.Namespace, settings: Settings) -> int:
    """Send an event; or only plan it, or compare what is live with what was sent."""
    how = _how(options)
    if options.fresh and (options.verify or options.dry_run):
        raise Stop("--fresh changes the key, and --verify and --dry-run change nothing: leave one out", USAGE)
    if options.verify:
        return _verify(ready(settings, quiet=how.quiet), how)
    if options.dry_run:
        return _plan(ready(settings, quiet=how.quiet), how)
    if options.fresh:
        freshen(settings)
    gone = go_out(settings, how)
    if options.json:
        say_json(_gone_json(gone))
    else:
        _say_gone(gone)
    return DONE


def _how(options: argparse.Namespace) -> How:
    return How(
        now_of(options),
        tuple(options.allow),
        options.take_over,
        options.recheck,
        options.json,
        options.starter_words,
        options.history,
    )


def go_out(settings: Settings, how: How) -> Gone:
    """Build, look for leaks, make a revision where the couple see anything new, send, and see that it opens.

    Raises `Stop`.
    """
    going = ready(settings, quiet=how.quiet)
    way = way_of(going.found, going.event, how.now)
    gate(going, how.allow)
    _words(going, how)
    stop_where_kept(going, way, go_on=how.history)
    older = stop_where_older(going, way, go_on=how.take_over)
    made = revise(going)
    if made:
        going = ready(settings, quiet=True)
        gate(going, how.allow)
    done = carry(going, way, how)
    before = still_elsewhere(way, going.own)
    former = former_down(going, how.now)
    down = set(before) - set(still_elsewhere(way, going.own))
    gone = (
        f"The page of {event}, which has no folder any more, is still up: sitegen withdraw {event}"
        for event in folderless(going.found)
    )
    notes = (older, *(note for note in done.notes if note not in down), history_note(way), *former, *gone)
    return Gone(going, done, made, tuple(filter(None, notes)))


def _words(going: Outgoing, how: How) -> None:
    """Stop where the starter's words would go out as hers. Raises `Stop`."""
    shown = snapshot(going.worked.priced, going.worked.heads).shown
    stop_at_starter_words(shown, "Nothing was sent:", go_on=how.starter_words)


def gate(going: Outgoing, allowed: tuple[str, ...]) -> None:
    """Stop where anything private would go out. Raises `Stop`."""
    found = [leak for leak in leaks(going.site(), going.own, going.worked) if leak.value not in allowed]
    if found:
        say("\n".join(_leak(leak) for leak in found), error=True)
        values = dict.fromkeys((*allowed, *(leak.value for leak in found)))
        allow = " ".join(f"--allow {shlex.quote(value)}" for value in values)
        how = f"If it stands there on purpose: sitegen publish {shlex.quote(going.event)} {allow}"
        raise Stop(f"nothing was sent: something private would have gone out. {how}", CONTENT)


def _leak(leak: Leak) -> str:
    around = f": “{leak.around}”" if leak.around else "."
    return f'"{leak.value}" is {leak.what}, and stands in {leak.where}{around}'


def revise(going: Outgoing) -> Revision | None:
    """Make a revision where the couple see or pay anything else than in the last. Raises `Stop`.

    What was approved is published as it is; a change to it is sent on purpose.
    """
    if going.worked.stand.settled:
        return None
    files = going.found.files(going.event)
    journal = read_records(files.folder, files.shown)
    if has_errors(journal.problems):
        say(whole([finding(problem) for problem in journal.problems], "Nothing was sent."), error=True)
        raise Stop("the records of this event cannot be trusted", CONTENT)
    now = snapshot(going.worked.content, going.worked.heads)
    try:
        return make_revision(journal, now, going.settings.today)
    except Overtaken as overtaken:
        raise Stop(f"{overtaken}; run it again", OUTSIDE) from None


def _would_revise(going: Outgoing) -> int | None:
    if going.worked.stand.settled:
        return None
    files = going.found.files(going.event)
    last = last_revision(read_records(files.folder, files.shown).records)
    now = snapshot(going.worked.content, going.worked.heads)
    if last is not None and not changed_for_couple(last.snapshot, now):
        return None
    return last.number + 1 if last else 1


def carry(going: Outgoing, way: Way, how: How) -> Published:
    """Send the site as it is built. Raises `Stop` where something outside fails."""
    opens = opens_with(going.own) if going.worked.folder.event.sealed else opens_plain
    with carrying(quiet=how.quiet) as progress:
        done = send(going.site(), way, opens, progress, take_over=how.take_over, recheck=how.recheck)
    if isinstance(done, Stopped):
        raise Stop(done.sentence, OUTSIDE)
    return done


def _plan(going: Outgoing, how: How) -> int:
    gate(going, how.allow)
    _words(going, how)
    way = way_of(going.found, going.event, how.now)
    older = older_note(going, way)
    plan = plan_only(going.site(), way, recheck=how.recheck)
    if isinstance(plan, Stopped):
        raise Stop(plan.sentence, OUTSIDE)
    said = filter(None, (older, history_note(way)))
    plan = replace(plan, notes=(*plan.notes, *said))
    number = _would_revise(going)
    if how.quiet:
        say_json(_plan_json(plan, number))
        return DONE
    for line in plan.lines():
        say(line)
    if number is not None:
        say(f"Revision {number} would be made first.")
    say("Nothing was sent: this was a dry run.")
    say(f"Next  sitegen publish {going.event}")
    return DONE


def _plan_json(plan: Plan, number: int | None) -> dict[str, object]:
    steps = [{"verb": step.verb, "path": step.path, "bytes": step.size} for step in plan.steps]
    sums = {"files": plan.files, "bytes": plan.bytes}
    return {"ok": True, "steps": steps, **sums, "revision": number, "notes": plan.notes}


def _verify(going: Outgoing, how: How) -> int:
    way: Way = way_of(going.found, going.event, how.now)
    with carrying(quiet=how.quiet) as progress:
        found = compare(encode(going.own.pid), way, progress)
    if isinstance(found, Stopped):
        raise Stop(found.sentence, OUTSIDE)
    if how.quiet:
        say_json({"ok": found.sound, "files": found.files, "differences": list(found.differences)})
    else:
        _say_verified(found)
    return DONE if found.sound else OUTSIDE


def _say_verified(found: Verified) -> None:
    for line in (*found.differences, *found.notes):
        say(line)
    say(
        f"Compared {counted(found.files)} at {found.page}: " + ("as sent." if found.sound else "not as sent.")
    )


def _gone_json(gone: Gone) -> dict[str, object]:
    done, made = gone.done, gone.made
    sent = {"files": done.files, "bytes": done.bytes, "deleted": done.deleted}
    revision = made.number if made else None
    return {
        "ok": True,
        "page": done.page,
        "live": done.live,
        **sent,
        "revision": revision,
        "notes": gone.notes,
    }


def _say_gone(gone: Gone) -> None:
    done, made = gone.done, gone.made
    if made:
        say(f"Made  revision {made.number} of {made.day.isoformat()}")
    sent = f"{counted(done.files)}, {done.bytes:,} bytes" if done.files else "nothing: it is there already"
    say(f"Sent  {sent}")
    say(f"Page  {done.page}" + (", opened there with its key" if done.live else ""))
    for note in gone.notes:
        say(f"Note  {note}")
    if not gone.going.worked.folder.event.sealed:
        say("Note  It is not sealed: whoever gets hold of its address reads it, and so does the host.")
    message = " and a message to send with it" if done.live else ""
    say(f"Next  sitegen link {gone.going.event}, for the link{message}")
