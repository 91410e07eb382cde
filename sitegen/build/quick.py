"""Whether there is anything to build at all: a look at files and keys, before anything heavy is loaded."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace

from sitegen.build import keys, staging, state
from sitegen.build.settings import Settings
from sitegen.build.state import State
from sitegen.load.tree import EventFiles, Tree, scan
from sitegen.order.shelf import elsewhere, stamp
from sitegen.report import Finding
from sitegen.values.nearest import nearest
from sitegen.values.number import shorten

DESK = "desk"
SEALED = "sealed"
SITE_FILES = ("404.html", "_headers", ".nojekyll")
MAILED = "proposal-one-file.html"


class NoSuchEvent(Exception):
    """A name on the command line that means no event, or several."""


@dataclass(frozen=True, slots=True)
class Survey:
    """The content as found, what the last build made of it, and which events must be made."""

    settings: Settings
    tree: Tree
    base: bytes
    keys: dict[str, str]
    state: State
    wanted: tuple[str, ...]
    stale: tuple[str, ...]
    desk_key: str
    mailed: frozenset[str] = frozenset()
    """Events with a page to mail: asked for now, or made by the last build, which must not lose it."""

    @property
    def nothing_to_do(self) -> bool:
        if self.settings.together:  # what lies on the desk does not say whether it would be the same again
            return False
        return not self.stale and self.state.desk == self.desk_key and bool(self.tree.events)

    def files(self, event: str) -> EventFiles:
        return next(files for files in self.tree.events if files.id == event)


@dataclass(frozen=True, slots=True)
class Outcome:
    """How a build ended: every finding, whether it may be shown, and what was made anew or kept.

    `unprinted` are PDFs that were taken away, since their pages are others now.
    """

    findings: tuple[Finding, ...]
    ok: bool
    made: tuple[str, ...] = ()
    kept: tuple[str, ...] = ()
    files: int = 0
    pictures: int = field(default=0)
    unprinted: tuple[str, ...] = ()


def mended(settings: Settings) -> Survey:
    """Mend a swap that was cut in two, then `survey`. Only for who holds the lock: another may swap."""
    for name in (DESK, SEALED):
        staging.mend(settings.out, name)
    return survey(settings)


def survey(settings: Settings) -> Survey:
    """Scan the content and compare it with the last build. Raises `NoSuchEvent`, and OSError."""
    tree = scan(settings.content, settings.shown)
    if settings.applied is not None:
        alone = tuple(files for files in tree.events if files.id == settings.applied.event)
        tree = replace(tree, events=alone)
    wanted = pick(tree, settings.events)
    base = keys.base_key(settings, tree)
    last = state.load(state.state_path(settings.home, settings.content, settings.out))
    mailed = frozenset(
        files.id
        for files in tree.events
        if (settings.one_file and files.id in wanted) or _mailed(files.id, last)
    )
    at = {files.id: keys.event_key(base, files, one_file=files.id in mailed) for files in tree.events}
    desk = settings.out / DESK
    beside = elsewhere({name: last.events[name].outs for name in at if name in last.events})
    stale = [
        name
        for name in wanted
        if not _fresh(name, at[name], last, settings) or last.events[name].beside != stamp(beside[name])
    ]
    # An event that was not named keeps its pages; where they are lost, they are made again.
    stale += [name for name in at if name not in wanted and not _whole(name, last, settings)]
    known = [last.events[name].key if name in last.events else "" for name in at]
    key = keys.desk_key(settings, base, known)
    shared = [f"{SEALED}/{name}" for name in SITE_FILES]
    if not state.untouched(desk, last, ("index.html",)) or not state.untouched(settings.out, last, shared):
        key = "gone"
    return Survey(settings, tree, base, at, last, wanted, tuple(stale), key, mailed)


def _mailed(name: str, last: State) -> bool:
    made = last.events.get(name)
    return made is not None and f"{name}/{MAILED}" in made.files


def _fresh(name: str, key: str, last: State, settings: Settings) -> bool:
    made = last.events.get(name)
    if made is None or made.key != key or made.secrets != keys.secret_stamp(settings, name):
        return False
    return _whole(name, last, settings)


def _whole(name: str, last: State, settings: Settings) -> bool:
    """Whether the event's files are there as the last build wrote them."""
    made = last.events.get(name)
    if made is None or not state.untouched(settings.out / DESK, last, (*made.files, *made.pictures)):
        return False
    return state.untouched(settings.out, last, made.sealed)


def pick(tree: Tree, names: Sequence[str]) -> tuple[str, ...]:
    """Give the events that *names* mean, each any part of a folder name that only one has; all for none."""
    ids = [files.id for files in tree.events]
    if not names:
        return tuple(ids)
    return tuple(dict.fromkeys(one_of(name, ids, "event") for name in names))


def one_of(name: str, ids: Iterable[str], kind: str) -> str:
    """Give the one of *ids* that *name* is, or is a part of. Raises `NoSuchEvent` with what to write."""
    known = list(ids)
    if name in known:
        return name
    found = [one for one in known if name.lower() in one.lower()]
    if len(found) == 1:
        return found[0]
    if found:
        raise NoSuchEvent(f'"{shorten(name)}" is a part of {", ".join(found[:6])}; write more of it')
    near = nearest(name, known)
    listed = f'did you mean "{near}"?' if near else f"there are {', '.join(known[:6]) or 'none'}"
    raise NoSuchEvent(f'no {kind} is called "{shorten(name)}"; {listed}')


def unchanged(found: Survey) -> Outcome:
    """The outcome where nothing has to be made: the warnings are told again."""
    ids = found.wanted
    told = [one for name in found.keys if name in ids for one in found.state.events[name].findings]
    return Outcome(
        (*found.state.findings, *told), ok=True, kept=tuple(sorted(ids)), files=len(found.state.written)
    )
