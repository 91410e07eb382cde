"""`sitegen link`: whether the page is live, then the link, messages to send with it, and a QR code."""

import argparse
import sys
from dataclasses import asdict, dataclass
from pathlib import Path

from sitegen.build.quick import Survey, survey
from sitegen.build.sealed import key_store, receipts_in
from sitegen.build.settings import Settings
from sitegen.cli.exits import DONE, OUTSIDE, USAGE, Stop, say, say_json
from sitegen.cli.outgoing import Outgoing, now_of, ready, way_of
from sitegen.cli.publish import How, go_out
from sitegen.cli.qr import save_qr, terminal_qr
from sitegen.publish import receipt as receipts
from sitegen.publish.address import Address
from sitegen.publish.fault import Fault, stopped
from sitegen.publish.reader import gives_out
from sitegen.publish.way import HERE_ONLY, Way
from sitegen.reply.invitation import invitation
from sitegen.seal.base32 import decode, encode
from sitegen.seal.keys import Secrets, choose_link, new_secrets, renewed, view_link
from sitegen.seal.link import address
from sitegen.seal.store import KeyFault, KeyTrouble, add, exchange, find


@dataclass(frozen=True, slots=True)
class Stand:
    """What to say of the page, and whether couples can open it now."""

    said: str
    live: bool = False


def link(options: argparse.Namespace, settings: Settings) -> int:
    """Say how the page stands, then give the link; with --renew, another one."""
    if options.renew:
        _renew(options, settings)
    going = ready(settings, quiet=options.json)
    way = way_of(going.found, going.event, now_of(options))
    stand = _stand(going, way)
    shown = _link(going, way, view_only=options.view_only)
    drawing = settings.out / "desk" / going.event / "link.svg"
    save_qr(shown, drawing)
    studio, names = going.worked.priced.shared.studio, going.worked.folder.event.for_
    invited = invitation(names, shown, studio, phrase=going.own.phrase is not None)
    if options.json:
        said = {"live": stand.live, "said": stand.said, "link": shown, **asdict(invited)}
        say_json({"ok": True, **said, "qr": str(drawing)})
        return DONE
    say(stand.said)
    if way.address is None:
        say("Opened from its folder it shows words and prices; pictures need a web server in between.")
        say("Before you send it: publish where others can reach it, and write address: in publish.yaml.")
    if not going.worked.folder.event.sealed:
        say("This page is not sealed: its address alone opens it, for whoever has it, and for the host.")
    say(f"\n{shown}\n")
    say(f"For a mail:\n\n{_indented(invited.mail)}\n\nFor a messenger:\n\n{_indented(invited.messenger)}\n")
    if sys.stdout.isatty():
        say(terminal_qr(shown))
    say(f"Wrote {drawing}: a QR code of the link, to print. Whoever scans it has the key.")
    say("The link is the key: whoever has all of it reads the page. Send it to the couple alone.")
    return DONE


def _indented(text: str) -> str:
    return "\n".join(f"  {line}".rstrip() for line in text.splitlines())


def _stand(going: Outgoing, way: Way) -> Stand:
    """Ask the public address, or say why nobody can open it."""
    try:
        standing = receipts.load(way.receipt).at(way.host.place, encode(going.own.pid))
    except Fault as fault:
        return Stand(stopped(fault).sentence)
    if not standing.live:
        after = " any more: it was taken down" if standing.withdrawn else " yet"
        return Stand(f"It is not published{after}. First: sitegen publish {going.event}")
    if way.address is None:
        return Stand(HERE_ONLY)
    return _asked(way.address, standing.pid, standing.current)


def _asked(base: Address, pid: str, page: str) -> Stand:
    try:
        gives_out(base, f"{pid}/", page)
    except Fault as fault:
        return Stand(f"It was published, but does not show. {stopped(fault).sentence}")
    return Stand(f"It is live: {base.base}{pid}/ gives out the page as it was sent.", live=True)


def _link(going: Outgoing, way: Way, *, view_only: bool) -> str:
    base = way.address.base if way.address else f"{Path(way.host.place).as_uri()}/"
    if not going.worked.folder.event.sealed:
        return f"{base}{encode(going.own.pid)}/"
    found = address(base, (view_link if view_only else choose_link)(going.own))
    return found if way.address else found.replace("/#", "/index.html#")


def _renew(options: argparse.Namespace, settings: Settings) -> None:
    """Give the event another folder and key; where it was live, publish it anew and take the old one down."""
    found = survey(settings)
    if len(found.wanted) != 1:
        raise Stop("name one event", USAGE)
    was_live = _exchange(found, found.wanted[0])
    lines = ["There is a new link; the one from before opens nothing that is published from now on."]
    if was_live:
        lines += go_out(settings, How(now_of(options), quiet=True)).notes
    for line in lines if not options.json else ():
        say(line)


def _exchange(found: Survey, event: str) -> bool:
    """Put new secrets in the place of the old ones; give whether a page of those is live. Raises `Stop`."""
    store, home = key_store(found.settings.home), found.settings.home
    try:
        kept = receipts.load(receipts_in(home) / f"{event}.json")
    except Fault as fault:
        raise Stop(stopped(fault).sentence, OUTSIDE) from None
    own = find(store, event)
    if isinstance(own, Secrets):
        wrong = exchange(store, event, own, renewed(own))
    elif own.trouble is KeyTrouble.MISSING:
        # The key is lost, but receipts know which folders have to come down.
        former = tuple(pid for one in kept.standings if (pid := decode(one.pid)))
        fresh = new_secrets()
        wrong = add(store, event, Secrets(fresh.pid, fresh.choose, tuple(dict.fromkeys(former))))
    else:
        wrong = own
    if isinstance(wrong, KeyFault):
        raise Stop(
            f"the key file {wrong.path} is {wrong.trouble}; it was left as it is. Move it away first.",
            OUTSIDE,
        )
    return any(one.live for one in kept.standings)
