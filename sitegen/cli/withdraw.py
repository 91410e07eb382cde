"""`sitegen withdraw`: an event's page comes down, and what it had before its link was renewed."""

import argparse
from collections.abc import Iterator
from dataclasses import replace

from sitegen.build.keys import theme_folders
from sitegen.build.outside import is_up
from sitegen.build.pages import own_themes
from sitegen.build.quick import Survey, survey
from sitegen.build.sealed import key_store, receipts_in
from sitegen.build.settings import Settings
from sitegen.check.shared import check_shared
from sitegen.cli.exits import DONE, OUTSIDE, Stop, say, say_json
from sitegen.cli.outgoing import Outgoing, counted, now_of, way_of
from sitegen.publish import receipt as receipts
from sitegen.publish.fault import Fault, Stopped, stopped
from sitegen.publish.receipt import Receipt
from sitegen.publish.way import Way, elsewhere
from sitegen.publish.withdraw import Withdrawn
from sitegen.publish.withdraw import withdraw as take_down
from sitegen.render.pages import shell_page
from sitegen.render.shell import THEME, WITHDRAWN_TEMPLATE, withdrawn_page
from sitegen.seal.base32 import encode
from sitegen.seal.keys import Secrets
from sitegen.seal.store import find


def withdraw(options: argparse.Namespace, found: Survey) -> int:
    """Take down every folder that an event is known to have at the host, and look whether it is gone."""
    event = found.wanted[0]
    way = way_of(found, event, now_of(options))
    shared = check_shared(found.tree).shared
    page = notice(found, shared.studio.language if shared else "en")
    still: list[str] = []
    for pid in _pids(found, event, way):
        done = take_down(pid, page, way_of(found, event, way.now))
        if isinstance(done, Stopped):
            raise Stop(done.sentence, OUTSIDE)
        still += done.still
        for line in (*down_lines(done, "The page"), *done.notes) if not options.json else ():
            say(line)
    if options.json:
        say_json({"ok": not still, "still": still})
    elif not still:
        say("What somebody opened or saved before stays with them.")
        say(f"Next  sitegen publish {event} brings it back under the same link")
    return OUTSIDE if still else DONE


def left_up(settings: Settings) -> Survey | None:
    """Survey for an event that is named in full, whose folder is gone while its page is up; else None."""
    found = survey(replace(settings, events=()))
    return replace(found, wanted=settings.events) if settings.events[0] in folderless(found) else None


def folderless(found: Survey) -> tuple[str, ...]:
    """Name the events that have no folder any more, and by their receipts a page at some host."""
    home = found.settings.home
    known = sorted(path.stem for path in receipts_in(home).glob("*.json"))
    return tuple(event for event in known if event not in found.keys and is_up(home, event))


def _pids(found: Survey, event: str, way: Way) -> tuple[str, ...]:
    """Name the folders that have a page, or may have one of a run that was cut off; else the key's own."""
    up = tuple(one.pid for one in _receipt(way).standings if one.place == way.host.place and one.reachable)
    own = find(key_store(found.settings.home), event)
    if up:
        return up
    if isinstance(own, Secrets):
        return (encode(own.pid),)
    raise Stop(f"{event} is not published at {way.host.place}: nothing to take down", OUTSIDE)


def former_down(going: Outgoing, now: int) -> tuple[str, ...]:
    """Take down what the event had before its link was renewed. Give what to know of it."""
    lines: list[str] = []
    kept = _receipt(way_of(going.found, going.event, now))
    for pid in map(encode, going.own.former):
        way = way_of(going.found, going.event, now)
        if kept.at(way.host.place, pid).reachable:
            language = going.worked.priced.shared.studio.language
            done = take_down(pid, notice(going.found, language), way)
            others = elsewhere(kept, way.host.place, pid)
            if isinstance(done, Stopped):
                lines.append(done.sentence)
            else:
                lines += [
                    *down_lines(done, "The old page"),
                    *(one for one in done.notes if one not in others),
                ]
    return tuple(lines)


def still_elsewhere(way: Way, own: Secrets) -> tuple[str, ...]:
    """Say where else the event can still be read."""
    return elsewhere(_receipt(way), way.host.place, encode(own.pid))


def _receipt(way: Way) -> Receipt:
    try:
        return receipts.load(way.receipt)
    except Fault as fault:
        raise Stop(stopped(fault).sentence, OUTSIDE) from None


def notice(found: Survey, language: str) -> bytes:
    """The page that stands where a proposal was taken down."""
    themes, problems = own_themes(theme_folders(found.settings))
    if problems:
        raise Stop("the program's own themes cannot be read; install it again", OUTSIDE)
    return shell_page(WITHDRAWN_TEMPLATE, withdrawn_page(language, themes[THEME]), themes[THEME]).encode()


def down_lines(done: Withdrawn, what: str) -> Iterator[str]:
    """Say what was taken down, and what still answers."""
    if done.again:
        yield f"{what} at {done.page} was down already; nothing was left to delete."
    else:
        yield f"{what} at {done.page} was taken down; {counted(done.deleted)} deleted."
    if done.still:
        yield "These still answer; ask your host to clear its cache: " + ", ".join(done.still)
