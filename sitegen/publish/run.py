"""Carries a plan out: blobs, then the page in one step, then a look through the address, then the receipt.

Whenever it is cut off, readers have the old site whole or the new one whole,
and the next run carries on.
"""

from dataclasses import dataclass, field, replace
from functools import partial

from sitegen.publish import receipt as receipts
from sitegen.publish.address import Address
from sitegen.publish.fault import Fault, Stopped, stopped
from sitegen.publish.host import read_back
from sitegen.publish.lock import one_publisher
from sitegen.publish.look import Seen, hashed, look
from sitegen.publish.plan import Plan, Step, foreign, is_strange, make_plan
from sitegen.publish.reader import Opens, fetch_from, fit_for_sealed_pages, gives_out, pages_as_sent
from sitegen.publish.retry import steadily
from sitegen.publish.site import (
    SHARED_NAMES,
    SealedSite,
    blob_folder,
    blob_path,
    digest,
    index_path,
)
from sitegen.publish.standing import intending, published, tidied
from sitegen.publish.way import HERE_ONLY, Moved, Progress, Way, elsewhere, quiet

_BEFORE = "What readers see has not changed."
_SWITCHING = "Readers see the page from before or the new one, each of them whole."
_AFTER = "The new page is in place."


@dataclass(frozen=True, slots=True)
class Published:
    """The site stands at *page*; *live*: it was opened through the address. *files* and *bytes* were sent."""

    page: str
    live: bool
    files: int
    bytes: int
    deleted: int
    notes: tuple[str, ...] = ()


def publish(
    site: SealedSite,
    way: Way,
    opens: Opens,
    progress: Progress = quiet,
    *,
    take_over: bool = False,
    recheck: bool = False,
) -> Published | Stopped:
    """Make the host show *site*, and see that it does.

    *take_over* replaces a page that was not published from here; *recheck*
    reads every blob that is there. Whatever fails outside is given back.
    """
    run = _Run(site, way, opens, progress)
    try:
        with one_publisher(way.receipts):
            return run.publish(take_over=take_over, recheck=recheck)
    except Fault as fault:
        return stopped(fault, run.readers)
    finally:
        way.host.close()


def plan_only(site: SealedSite, way: Way, *, recheck: bool = False) -> Plan | Stopped:
    """Look at the host and say what `publish` would do; writes nothing anywhere."""
    try:
        kept = receipts.load(way.receipt)
        standing = kept.at(way.host.place, site.pid)
        seen = steadily(lambda: look(way.host, site.pid, SHARED_NAMES), way.wait)
        known = receipts.shared_files(way.receipts, way.host.place)
        plan = make_plan(site, standing, seen, known, way.now, recheck=recheck)
        strange = is_strange(site, standing, seen)
        said = [stopped(Fault("stranger", way.page(site.pid))).sentence] if strange else []
        return replace(plan, notes=(*said, *plan.notes, *elsewhere(kept, way.host.place, site.pid)))
    except Fault as fault:
        return stopped(fault)
    finally:
        way.host.close()


@dataclass(slots=True)
class _Run:
    """One publish. *readers* is what to say they see, should it be cut off now."""

    site: SealedSite
    way: Way
    opens: Opens
    progress: Progress
    readers: str = _BEFORE
    notes: list[str] = field(default_factory=list)

    def publish(self, *, take_over: bool, recheck: bool) -> Published:
        way, site = self.way, self.site
        self.fit()
        kept = receipts.load(way.receipt)
        standing = kept.at(way.host.place, site.pid)
        seen = steadily(lambda: look(way.host, site.pid, SHARED_NAMES), way.wait)
        if not take_over and is_strange(site, standing, seen):
            raise Fault("stranger", way.page(site.pid))
        known = receipts.shared_files(way.receipts, way.host.place)
        plan = make_plan(site, standing, seen, known, way.now, recheck=recheck)
        standing = intending(standing, digest(site.index), self.shared(seen, known), self.base())
        receipts.save(way.receipt, kept.having(standing))
        sent = self.carry(plan, seen)
        standing = published(standing, site, seen, way.now)
        receipts.save(way.receipt, kept.having(standing))
        live = self.opened(seen.index)
        standing = replace(standing, seen=live)
        standing = tidied(standing, plan) if self.tidy(plan) else standing
        receipts.save(way.receipt, kept.having(standing))
        if way.address is None:
            self.notes.append(HERE_ONLY)
        notes = (*self.notes, *plan.notes, *elsewhere(kept, way.host.place, site.pid))
        total = sum(step.size for step in sent)
        return Published(way.page(site.pid), live, len(sent), total, len(plan.of("delete")), notes)

    def base(self) -> str:
        return self.way.address.base if self.way.address else ""

    def shared(self, seen: Seen, known: dict[str, frozenset[str]]) -> dict[str, str]:
        others = foreign(self.site, seen, known)
        return {name: digest(data) for name, data in self.site.site_files.items() if name not in others}

    def fit(self) -> None:
        """Refuse what no reader could open, before anything is sent."""
        said = self.opens(self.site.index, self.own)
        if said is not None:
            raise Fault("unopened", "this computer", said)
        address = self.way.address
        if address is None:
            return
        # A name that nobody has, and that no cache has seen: it is of this page and this second.
        absent = digest(f"{digest(self.site.index)} {self.way.now}".encode())
        probe = f"{blob_folder(self.site.pid)}/{absent}.bin"
        try:
            steadily(lambda: fit_for_sealed_pages(address, probe), self.way.wait)
        except Fault as fault:
            if not (self.way.lags and fault.kind in ("unreachable", "again")):
                raise

    def own(self, name: str) -> bytes | None:
        return self.content(blob_path(self.site.pid, name)) if name in self.site.blobs else None

    def content(self, path: str) -> bytes:
        try:
            return self.site.content(path)
        except OSError:
            raise Fault("unread", "this computer", path) from None

    def carry(self, plan: Plan, seen: Seen) -> list[Step]:
        """Send and check, look at the new blobs through the address, then switch. Give what was sent."""
        todo = plan.of("send", "check", "switch")
        sent: list[Step] = []
        total = sum(step.size for step in todo)
        done = 0
        for i, step in enumerate(todo):
            self.progress(Moved(i, len(todo), done, total, step.path))
            if step.verb == "switch":
                self.before_switch(sent, seen)
                self.readers = _SWITCHING
            if step.verb != "check" or not self.sound(step.path):
                self.send(step.path)
                sent.append(step)
            done += step.size
            self.progress(Moved(i + 1, len(todo), done, total, step.path))
        self.readers = _AFTER
        return sent

    def send(self, path: str) -> None:
        """Write one file and read it back; done twice it does no harm."""
        data = self.content(path)
        host = self.way.host

        def act() -> None:
            (host.put_new if path.endswith(".bin") else host.replace)(path, data)
            read_back(host, path, data)

        steadily(act, self.way.wait)

    def sound(self, path: str) -> bool:
        return steadily(lambda: self.way.host.read(path), self.way.wait) == self.content(path)

    def before_switch(self, sent: list[Step], seen: Seen) -> None:
        """Blobs must be given out before a page names them, and the page must still be the one looked at.

        How pages come out is tried on the one for lost readers, before any couple's.
        """
        if self.way.address and not self.way.lags:
            for step in sent:
                steadily(partial(self.given_out, self.way.address, step.path, seen), self.way.wait)
        path = index_path(self.site.pid)
        if steadily(lambda: hashed(self.way.host, path), self.way.wait) != seen.index:
            raise Fault("stranger", self.way.page(self.site.pid))

    def given_out(self, address: Address, path: str, seen: Seen) -> None:
        sha = digest(self.content(path))
        if path.endswith(".bin"):
            gives_out(address, path, sha)
        elif path.endswith(".html"):
            # A cache may still hold the one from before, but not where nothing was before.
            pages_as_sent(address, path, sha if seen.index is None else "")

    def opened(self, before: str | None) -> bool:
        """Fetch and open the page as a couple would. False, with a note, where it may still come."""
        try:
            return steadily(lambda: self.look_through(before or ""), self.way.wait)
        except Fault as fault:
            if fault.kind == "cached" or self.way.lags:
                self.notes.append(f"Not to be seen at its address yet. {stopped(fault).sentence}")
                return False
            raise

    def look_through(self, before: str) -> bool:
        address, site, host = self.way.address, self.site, self.way.host
        if address is None:
            page = host.read(index_path(site.pid)) or b""
            said = self.opens(page, lambda name: host.read(blob_path(site.pid, name)))
        else:
            page = gives_out(address, f"{site.pid}/", digest(site.index), before=before)
            said = self.opens(page, fetch_from(address, blob_folder(site.pid)))
        if said is not None:
            raise Fault("unopened", self.way.page(site.pid), said)
        return address is not None

    def tidy(self, plan: Plan) -> bool:
        """Delete what nobody uses. It can wait: a fault here is a note."""
        try:
            for step in plan.of("delete"):
                steadily(partial(self.way.host.delete, step.path), self.way.wait)
        except Fault as fault:
            self.notes.append(
                f"Old files were not all tidied away; the next publish tries again. {stopped(fault).sentence}"
            )
            return False
        return True
