"""`sitegen link`: whether the page is live, then the link, messages to send with it, and a QR code."""

import argparse
import sys
from collections.abc import Iterator
from dataclasses import asdict, dataclass
from pathlib import Path

from sitegen.build.settings import Settings
from sitegen.cli.exits import DONE, say, say_json
from sitegen.cli.outgoing import Outgoing, now_of, ready, way_of
from sitegen.cli.qr import save_qr, terminal_qr
from sitegen.cli.rekeying import Change, rekey
from sitegen.publish import receipt as receipts
from sitegen.publish.address import Address
from sitegen.publish.fault import Fault, stopped
from sitegen.publish.reader import gives_out
from sitegen.publish.way import HERE_ONLY, Way
from sitegen.reply.invitation import invitation
from sitegen.seal.base32 import encode
from sitegen.seal.keys import choose_link, view_link
from sitegen.seal.link import address


@dataclass(frozen=True, slots=True)
class Stand:
    """What to say of the page, whether couples can open it now, and whether it was published at all."""

    said: str
    live: bool = False
    sent: bool = False


def link(options: argparse.Namespace, settings: Settings) -> int:
    """Say how the page stands, then give the link, after changing it as the flags say."""
    change = Change(options.renew, options.phrase)
    lines = rekey(settings, change, now_of(options)) if change.any else []
    going = ready(settings, quiet=options.json)
    way = way_of(going.found, going.event, now_of(options))
    stand = _stand(going, way)
    shown = _link(going, way, view_only=options.view_only)
    drawing = _drawn(going, shown) if stand.sent else None
    if options.json:
        words = {"phrase": _words(going)} if options.phrase else {}
        said = {"live": stand.live, "said": stand.said, "link": shown, **_messages(going, shown, stand)}
        say_json({"ok": True, **said, **words, "qr": drawing and str(drawing), "notes": lines})
        return DONE
    for line in (*lines, stand.said, *_before(going, stand)):
        say(line)
    say(f"\n{shown}\n")
    if drawing:
        _say_to_send(_messages(going, shown, stand), shown, drawing)
    else:
        say("There is no message to send with it yet: the couple could not open it.")
    for line in _last(going, shown=options.phrase) if stand.sent or options.phrase else ():
        say(line)
    return DONE


def _drawn(going: Outgoing, shown: str) -> Path:
    """Draw the link. It holds the key, so it lies beside the keys, and no build takes it away."""
    drawing = going.settings.home / "links" / f"{going.event}.svg"
    save_qr(shown, drawing)
    return drawing


def _messages(going: Outgoing, shown: str, stand: Stand) -> dict[str, str | None]:
    """Give what to send with the link; nothing while there is no page to open."""
    if not stand.sent:
        return {"mail": None, "messenger": None}
    studio, names = going.worked.priced.shared.studio, going.worked.folder.event.for_
    return asdict(invitation(names, shown, studio, phrase=going.own.phrase is not None))


def _before(going: Outgoing, stand: Stand) -> Iterator[str]:
    if stand.said == HERE_ONLY and going.worked.folder.event.sealed:
        yield "Opened from its folder it shows words and prices; pictures need a web server in between."
    if stand.said == HERE_ONLY:
        yield "Before you send it: publish where others can reach it, and write address: in publish.yaml."
    if not going.worked.folder.event.sealed:
        yield "This page is not sealed: its address alone opens it, for whoever has it, and for the host."


def _say_to_send(messages: dict[str, str | None], shown: str, drawing: Path) -> None:
    for name, text in messages.items():
        say(f"For a {name}:\n\n{_indented(text or '')}\n")
    if sys.stdout.isatty():
        say(terminal_qr(shown))
    say(f"Wrote {drawing}: a QR code of the link, to print. Whoever scans it has the key.")


def _words(going: Outgoing) -> str | None:
    return going.own.phrase.words if going.own.phrase else None


def _last(going: Outgoing, *, shown: bool) -> tuple[str, ...]:
    """Say what opens the page, and who may have it."""
    words = _words(going)
    if words is None:
        return ("The link is the key: whoever has all of it reads the page. Send it to the couple alone.",)
    if not shown:
        again = f"sitegen link {going.event} --phrase shows it again."
        return (
            f"After the link the page asks for its phrase, which you told the couple another way. {again}",
        )
    return (
        f"\nThe phrase, which the page asks for after the link:\n\n  {words}\n",
        "Tell it another way than the link: by telephone, or on paper. Whoever has both reads the page.",
        "It is kept with the key, and no other command shows it.",
    )


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
        return Stand(HERE_ONLY, sent=True)
    return _asked(way.address, standing.pid, standing.current)


def _asked(base: Address, pid: str, page: str) -> Stand:
    try:
        gives_out(base, f"{pid}/", page)
    except Fault as fault:
        return Stand(f"It was published, but does not show. {stopped(fault).sentence}", sent=True)
    said = f"It is live: {base.base}{pid}/ gives out the page as it was sent."
    return Stand(said, live=True, sent=True)


def _link(going: Outgoing, way: Way, *, view_only: bool) -> str:
    base = way.address.base if way.address else f"{Path(way.host.place).as_uri()}/"
    if not going.worked.folder.event.sealed:
        return f"{base}{encode(going.own.pid)}/{'' if way.address else 'index.html'}"
    found = address(base, (view_link if view_only else choose_link)(going.own))
    return found if way.address else found.replace("/#", "/index.html#")
