"""Another link for an event, its phrase on or off: the secrets change, and what is live is published anew."""

from dataclasses import dataclass, replace

from sitegen.build.quick import Survey, survey
from sitegen.build.sealed import key_store, receipts_in
from sitegen.build.settings import Settings
from sitegen.cli.exits import OUTSIDE, USAGE, Stop
from sitegen.cli.outgoing import ready
from sitegen.cli.publish import How, go_out
from sitegen.publish import receipt as receipts
from sitegen.publish.fault import Fault, stopped
from sitegen.publish.receipt import Receipt
from sitegen.seal.base32 import decode
from sitegen.seal.keys import Secrets, new_secrets, renewed, with_phrase
from sitegen.seal.store import KeyFault, KeyTrouble, Store, add, exchange, find

_RENEWED = "There is a new link; the one from before opens nothing that is published from now on."
_ASKED = "From now on the page asks for a phrase as well. Choices that were sent without it count no more."
_UNASKED = "From now on the link alone opens the page. Choices that were sent with the phrase count no more."
_AHEAD = (
    "The key here has changed all the same, and what couples can open is as before: sitegen publish sends "
    "the new page and takes the old one down."
)
_BACK_UP = "The key has changed: sitegen keys export FILE writes a backup with the new one."


@dataclass(frozen=True, slots=True)
class Change:
    """What is to become of an event's secrets; *phrase*: on, off, or as it is."""

    renew: bool = False
    phrase: bool | None = None

    @property
    def any(self) -> bool:
        return self.renew or self.phrase is not None


def rekey(settings: Settings, change: Change, now: int) -> list[str]:
    """Change an event's secrets, publish it anew where it is live, and give what to say. Raises `Stop`."""
    found = survey(settings)
    if len(found.wanted) != 1:
        raise Stop("name one event", USAGE)
    event = found.wanted[0]
    if change.phrase and not ready(settings, quiet=True).worked.folder.event.sealed:
        raise Stop(f"{event} says sealed: no, and only a sealed page can ask for a phrase", USAGE)
    kept = _receipt(found, event)
    lines = _exchange(key_store(settings.home), event, change, kept)
    if any(one.reachable for one in kept.standings):
        # Also where nothing changed: the run before may have ended before it had published.
        lines += _published(settings, now, changed=bool(lines))
    return lines


def _published(settings: Settings, now: int, *, changed: bool) -> tuple[str, ...]:
    """Publish; where that fails, say that the key has *changed* before it."""
    try:
        return go_out(settings, How(now, quiet=True)).notes
    except Stop as stop:
        raise Stop(f"{stop} {_AHEAD}" if changed else str(stop), stop.code) from None


def _receipt(found: Survey, event: str) -> Receipt:
    try:
        return receipts.load(receipts_in(found.settings.home) / f"{event}.json")
    except Fault as fault:
        raise Stop(stopped(fault).sentence, OUTSIDE) from None


def _exchange(store: Store, event: str, change: Change, kept: Receipt) -> list[str]:
    """Put other secrets in the place of those that are there; give what changed. Raises `Stop`."""
    own = find(store, event)
    lines: list[str] = []
    wrong: KeyFault | None = None
    if isinstance(own, Secrets):
        fresh, lines = _changed(own, change)
        wrong = exchange(store, event, own, fresh) if fresh != own else None
    elif own.trouble is KeyTrouble.MISSING and change.renew:
        # The key is lost, but receipts know which folders have to come down.
        former = tuple(pid for one in kept.standings if (pid := decode(one.pid)))
        lost = replace(new_secrets(), former=tuple(dict.fromkeys(former)))
        wrong, lines = add(store, event, with_phrase(lost) if change.phrase else lost), [_RENEWED]
    else:
        wrong = own
    if wrong:
        raise Stop(
            f"the key file {wrong.path} is {wrong.trouble}; it was left as it is. Move it away first.",
            OUTSIDE,
        )
    return [*lines, *([_BACK_UP] if lines else [])]


def _changed(own: Secrets, change: Change) -> tuple[Secrets, list[str]]:
    """Give the secrets as they are to be, and what is new about them. A new link also has new words."""
    fresh = renewed(own) if change.renew else own
    lines = [_RENEWED] if change.renew else []
    if change.phrase and (fresh.phrase is None or change.renew):
        return with_phrase(fresh), [*lines, *([] if own.phrase else [_ASKED])]
    if change.phrase is False and fresh.phrase:
        return replace(fresh, phrase=None), [*lines, _UNASKED]
    return fresh, lines
