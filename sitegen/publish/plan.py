"""From what is there to what should be: the steps in their order. Pure; touches nothing."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Literal

from sitegen.publish.look import Seen
from sitegen.publish.receipt import Edition, Standing
from sitegen.publish.site import SHARED_NAMES, SealedSite, blob_path, digest, index_path

# A day: longer than a page is kept open or cached anywhere, as common practice has it (no source).
GRACE = 24 * 60 * 60

Verb = Literal["send", "check", "switch", "delete"]


@dataclass(frozen=True, slots=True)
class Step:
    """One file: *send* it, *check* the one that is there, *switch* the page, or *delete* what nobody uses."""

    verb: Verb
    path: str
    size: int

    def __str__(self) -> str:
        return f"{self.verb:<6}  {self.path}  {self.size:,} bytes"


@dataclass(frozen=True, slots=True)
class Plan:
    """All steps in order (blobs before the page, tidying after it), and what a person should know before."""

    steps: tuple[Step, ...]
    notes: tuple[str, ...] = ()

    def of(self, *verbs: Verb) -> tuple[Step, ...]:
        return tuple(step for step in self.steps if step.verb in verbs)

    @property
    def files(self) -> int:
        """How many files travel to the host."""
        return len(self.of("send", "switch"))

    @property
    def bytes(self) -> int:
        """How many bytes travel to the host."""
        return sum(step.size for step in self.of("send", "switch"))

    def lines(self) -> tuple[str, ...]:
        """Say the plan for people, one line a step, the sum, then what to know."""
        total = f"{self.files} files and {self.bytes:,} bytes to send" if self.files else "nothing to send"
        return (*map(str, self.steps), total, *self.notes)


def make_plan(
    site: SealedSite,
    standing: Standing,
    seen: Seen,
    known: Mapping[str, frozenset[str]],
    now: int,
    *,
    recheck: bool = False,
) -> Plan:
    """Plan from the receipt's *standing* and what was *seen*: only what changed travels.

    A shared file is replaced only where its bytes are *known* as ours, by
    SHA-256. A blob that is there but in no receipt is checked, not sent again;
    with *recheck* all are.
    """
    page = digest(site.index)
    steps = [*_shared(site, seen, known), *_blobs(site, standing, seen, recheck=recheck)]
    if seen.index != page:
        steps.append(Step("switch", index_path(site.pid), len(site.index)))
    steps += _unused(site, standing, seen, now)
    steps += [Step("delete", path, size) for path, size in seen.strays.items()]
    return Plan(tuple(steps), tuple(map(_left_alone, foreign(site, seen, known))))


def is_strange(site: SealedSite, standing: Standing, seen: Seen) -> bool:
    """Whether the page that is there is none of ours: another computer's work, or somebody who got in."""
    ours = {standing.pending, standing.withdrawn, digest(site.index)}
    ours |= {edition.index for edition in standing.editions}
    return seen.index is not None and seen.index not in ours


def foreign(site: SealedSite, seen: Seen, known: Mapping[str, frozenset[str]]) -> tuple[str, ...]:
    """Name the shared files that somebody else put there."""
    return tuple(
        name
        for name, sha in seen.site.items()
        if name in site.site_files
        and sha != digest(site.site_files[name])
        and sha not in known.get(name, frozenset())
    )


def kept_editions(standing: Standing, page: str) -> tuple[Edition, ...]:
    """Give the edition before the one whose page hashes to *page*: readers may still have it open."""
    return tuple(edition for edition in standing.editions if edition.index != page)[-1:]


def _left_alone(name: str) -> str:
    return f"{name} at the host is not ours and is left alone; ours would mend damaged links and set headers."


def _shared(site: SealedSite, seen: Seen, known: Mapping[str, frozenset[str]]) -> Iterator[Step]:
    others = foreign(site, seen, known)
    for name in SHARED_NAMES:
        data = site.site_files.get(name)
        if data is not None and name not in others and seen.site.get(name) != digest(data):
            yield Step("send", name, len(data))


def _blobs(site: SealedSite, standing: Standing, seen: Seen, *, recheck: bool) -> Iterator[Step]:
    for name in sorted(site.blobs):
        size = site.size(name)
        sent = standing.blobs.get(name)
        if seen.blobs.get(name) != size:
            yield Step("send", blob_path(site.pid, name), size)
        elif recheck or sent is None or not sent.sha256:
            yield Step("check", blob_path(site.pid, name), size)


def _unused(site: SealedSite, standing: Standing, seen: Seen, now: int) -> Iterator[Step]:
    kept = {name for edition in kept_editions(standing, digest(site.index)) for name in edition.blobs}
    for name in sorted(seen.blobs.keys() - site.blobs.keys() - kept):
        sent = standing.blobs.get(name)
        if sent and sent.left is not None and sent.left + GRACE <= now:
            yield Step("delete", blob_path(site.pid, name), seen.blobs[name])
