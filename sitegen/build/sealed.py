"""What is published of an event: rendered beside the desk's pages, and sealed once its pictures are made.

Nothing of it is named on the desk: whoever sees a desk's page must not learn where the sealed one lies.
"""

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from sitegen.build.event import Worked
from sitegen.build.settings import Settings
from sitegen.pictures.plan import Picture
from sitegen.pictures.store import Store as Pictures
from sitegen.publish import receipt as receipts
from sitegen.publish.fault import Fault
from sitegen.render.couple import CouplePage
from sitegen.render.pages import couple_body, shell_page
from sitegen.render.photos import sealed_place, sealed_rendition
from sitegen.render.shell import LOST_TEMPLATE, SHELL_TEMPLATE, headers, lost_page, sealed_texts, shell_of
from sitegen.seal.base32 import encode
from sitegen.seal.bundle import Bundle, Oversize, Photo, seal_bundle
from sitegen.seal.keys import Secrets
from sitegen.seal.store import KeyFault, KeyTrouble, Store, events, find, find_or_make
from sitegen.theme import Theme
from sitegen.values.node import place_at
from sitegen.values.problem import Problem, whole_file

_WHY_KEY = "The couple's link hangs on this key; with another one it would open nothing any more."


@dataclass(frozen=True, slots=True)
class Issue:
    """The number of the revision that a page shows, 0 for what was never sent, and the day it is dated."""

    revision: int
    on: dt.date


@dataclass(frozen=True, slots=True)
class Unsealed:
    """An event ready to be sealed: its texts, and its pictures by place, which may not be made yet."""

    own: Secrets
    issue: Issue
    texts: Mapping[str, str]
    pictures: Mapping[str, Picture]
    page: CouplePage
    theme: Theme


def key_store(home: Path) -> Store:
    return Store(home / "keys")


def receipts_in(home: Path) -> Path:
    return home / "receipts"


def issue_of(worked: Worked, today: dt.date) -> Issue:
    """Say which revision a page shows: the last, on its own day while nothing changed for the couple.

    So an unchanged page is the same on every day, and a reply to one that was never sent is told as such.
    """
    stand = worked.stand
    return Issue(stand.revision or 0, stand.issued) if stand.issued else Issue(0, today)


def secrets_for(settings: Settings, event: str, *, sent: bool) -> Secrets | Problem:
    """Give an event's secrets, made at its first build; never anew for one that was published.

    Nor for one that was *sent*, where the key of a folder that is no more may well be its own: renaming a
    folder must not give the couple another link. Raises OSError where the disk refuses.
    """
    home = settings.home
    store = key_store(home)
    found = find(store, event)
    if isinstance(found, KeyFault) and found.trouble is KeyTrouble.MISSING and not published(home, event):
        left = [one for one in events(store) if not (settings.content / "events" / one).is_dir()]
        if sent and left:
            # A moved date changes no more of a folder's name than the day that it begins with.
            return _left_problem(home, event, max(left, key=lambda one: one[10:] == event[10:]))
        found = find_or_make(store, event)
    return _key_problem(found) if isinstance(found, KeyFault) else found


def _left_problem(home: Path, event: str, left: str) -> Problem:
    what = f'this event was sent and has no key, and there is one of "{left}", which has no folder any more'
    fix = (
        f"where that was its name, rename {left}.json in {home.name}/keys (and in {home.name}/receipts, if "
        f"it is there) to {event}.json; where not, sitegen link {event} --renew"
    )
    place = whole_file(f"{home.name}/keys/{left}.json")
    return Problem("key-left", place, what, _WHY_KEY, fix, "warning", event=event)


def published(home: Path, event: str) -> bool:
    """Whether a page of this event was ever sent anywhere; also where its receipt cannot be read."""
    try:
        return bool(receipts.load(receipts_in(home) / f"{event}.json").standings)
    except Fault:
        return True


def _key_problem(fault: KeyFault) -> Problem:
    lost = fault.trouble is KeyTrouble.MISSING
    what = "the key of this published event is lost" if lost else f"this key file is {fault.trouble}"
    fix = f"sitegen keys import FILE, from your backup; without one, sitegen link {fault.event} --renew"
    place = whole_file(f"{fault.path.parent.parent.name}/keys/{fault.path.name}")
    code = "key-lost" if lost else "key-unusable"
    return Problem(code, place, what, _WHY_KEY, fix, "warning", event=fault.event)


def open_to_all(worked: Worked) -> Problem:
    """Say what `sealed: no` means."""
    what = "this event's page is not sealed"
    why = (
        "Whoever gets hold of its address reads it, and so do the host and all who can look at its files. "
        "Only the address is hard to guess, and search engines are asked to stay away."
    )
    place = place_at(worked.folder.node, ("sealed",))
    fix = "take out sealed: no, and only the whole link opens the page"
    return Problem("sealed-no", place, what, why, fix, "warning", event=worked.folder.id)


def unsealed(
    own: Secrets, issue: Issue, page: CouplePage, theme: Theme, pictures: tuple[Picture, ...]
) -> Unsealed:
    """Render what is going to be sealed; only pictures that the page names are taken."""
    texts = sealed_texts(page, couple_body(page, theme))
    named = {sealed_place(one): one for one in pictures if f'"{sealed_place(one)}"' in texts["body"]}
    if not own.fresh:
        return Unsealed(own, issue, texts, named, page, theme)
    return Unsealed(own, issue, *_freshly(texts, named, own.fresh), page, theme)


def _freshly(
    texts: Mapping[str, str], named: Mapping[str, Picture], fresh: str
) -> tuple[dict[str, str], dict[str, Picture]]:
    """Give each picture a place of another name, which its seal is bound to, and the page one more text."""
    body, placed = texts["body"], dict[str, Picture]()
    for place, picture in named.items():
        slot, _, width = place.partition("/")
        placed[f"{slot}-{fresh}/{width}"] = picture
        body = body.replace(f'"{place}"', f'"{slot}-{fresh}/{width}"')
    return {**texts, "body": body, "fresh": fresh}, placed


def seal_page(ready: Unsealed, made: Pictures, shell: Theme) -> dict[str, bytes] | Problem:
    """Seal an event: its files by their names within `sealed/`. Its pictures must have been made."""
    photos = tuple(_photo(place, one, made) for place, one in sorted(ready.pictures.items()))
    bundle = Bundle(ready.issue.revision, ready.issue.on.isoformat(), ready.texts, photos)
    sealed = seal_bundle(ready.own, bundle)
    if isinstance(sealed, Oversize):
        return _too_large(sealed)
    page = shell_of(sealed.page, ready.page.language, ready.page.paper, ready.theme, shell)
    index = shell_page(SHELL_TEMPLATE, page, shell).encode()
    files = {"index.html": index, **sealed.files}
    return in_folder(ready.own, files)


def in_folder(own: Secrets, files: Mapping[str, bytes]) -> dict[str, bytes]:
    pid = encode(own.pid)
    return {f"{pid}/{name}": data for name, data in files.items()}


def _photo(place: str, picture: Picture, made: Pictures) -> Photo:
    one = sealed_rendition(picture)
    slot, _, width = place.partition("/")
    kind = f"image/{one.encoding.format.lower()}"
    return Photo(slot, int(width), kind, made.path(one.name).read_bytes())


def _too_large(over: Oversize) -> Problem:
    part = "all words and prices together" if over.place == "manifest" else "a picture of this event"
    what = f"{part} take {over.size:,} bytes, and {over.most:,} can be sealed"
    why = "Phones open a sealed page in one piece, and have little room."
    fix = "ask for smaller pictures in theme.yaml, or split the event in two"
    return Problem("seal-large", whole_file("event.md"), what, why, fix)


def site_files(language: str, shell: Theme) -> dict[str, bytes]:
    """Give the files that all events share: a page for lost readers, and what some hosts read."""
    lost = shell_page(LOST_TEMPLATE, lost_page(language, shell), shell)
    return {"404.html": lost.encode(), "_headers": headers().encode(), ".nojekyll": b""}
