"""Publishes a site: look, plan, carry, look again as a reader would, and keep the receipt.

Whenever it is cut off, readers have the old site whole or the new one whole,
and the next run carries on.
"""

from dataclasses import dataclass, replace
from functools import partial

from sitegen.publish import receipt as receipts
from sitegen.publish.carry import Carrier
from sitegen.publish.fault import Fault, Stopped, stopped
from sitegen.publish.lock import one_publisher
from sitegen.publish.look import look
from sitegen.publish.plan import Plan, foreign, is_strange, make_plan
from sitegen.publish.reader import Opens, fetch_from, fit_for_sealed_pages, gives_out
from sitegen.publish.retry import steadily
from sitegen.publish.site import SHARED_NAMES, SealedSite, blob_folder, blob_path, digest, index_path
from sitegen.publish.standing import intending, published, tidied
from sitegen.publish.way import HERE_ONLY, Progress, Way, elsewhere, quiet


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
    carrier = Carrier(site, way, progress)
    try:
        with one_publisher(way.receipts):
            return _publish(carrier, opens, take_over=take_over, recheck=recheck)
    except Fault as fault:
        return stopped(fault, carrier.readers)
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


def _publish(carrier: Carrier, opens: Opens, *, take_over: bool, recheck: bool) -> Published:
    """Look, plan, note the intent, carry, note the work, look through the address, tidy, note the end."""
    site, way = carrier.site, carrier.way
    _fit(carrier, opens)
    kept = receipts.load(way.receipt)
    standing = kept.at(way.host.place, site.pid)
    seen = steadily(lambda: look(way.host, site.pid, SHARED_NAMES), way.wait)
    if not take_over and is_strange(site, standing, seen):
        raise Fault("stranger", way.page(site.pid))
    known = receipts.shared_files(way.receipts, way.host.place)
    plan = make_plan(site, standing, seen, known, way.now, recheck=recheck)
    others = foreign(site, seen, known)
    ours = {name: digest(data) for name, data in site.site_files.items() if name not in others}
    standing = intending(standing, digest(site.index), ours, way.address.base if way.address else "")
    receipts.save(way.receipt, kept.having(standing))
    sent = carrier.carry(plan, seen)
    standing = published(standing, site, seen, way.now)
    receipts.save(way.receipt, kept.having(standing))
    notes: list[str] = []
    live = _opened(site, way, opens, seen.index or "", notes)
    standing = replace(standing, seen=live)
    standing = tidied(standing, plan) if _tidy(plan, way, notes) else standing
    receipts.save(way.receipt, kept.having(standing))
    said = (*notes, *plan.notes, *elsewhere(kept, way.host.place, site.pid))
    total = sum(step.size for step in sent)
    return Published(way.page(site.pid), live, len(sent), total, len(plan.of("delete")), said)


def _fit(carrier: Carrier, opens: Opens) -> None:
    """Refuse what no reader could open, before anything is sent."""
    site, way = carrier.site, carrier.way
    said = opens(site.index, carrier.own)
    if said is not None:
        raise Fault("unopened", "this computer", said)
    address = way.address
    if address is None:
        return
    # A name that nobody has, and that no cache has seen: it is of this page and this second.
    absent = f"{blob_folder(site.pid)}/{digest(f'{digest(site.index)} {way.now}'.encode())}.bin"
    try:
        steadily(lambda: fit_for_sealed_pages(address, absent), way.wait)
    except Fault as fault:
        if not (way.lags and fault.kind in ("unreachable", "again")):
            raise


def _opened(site: SealedSite, way: Way, opens: Opens, before: str, notes: list[str]) -> bool:
    """Fetch and open the page as a couple would. False, with a note, where it may still come."""
    try:
        steadily(lambda: _look_through(site, way, opens, before), way.wait)
    except Fault as fault:
        if fault.kind != "cached" and not way.lags:
            raise
        notes.append(f"Not to be seen at its address yet. {stopped(fault).sentence}")
        return False
    if way.address is None:
        notes.append(HERE_ONLY)
    return way.address is not None


def _look_through(site: SealedSite, way: Way, opens: Opens, before: str) -> None:
    address, host = way.address, way.host
    if address is None:
        page = host.read(index_path(site.pid)) or b""
        said = opens(page, lambda name: host.read(blob_path(site.pid, name)))
    else:
        page = gives_out(address, f"{site.pid}/", digest(site.index), before=before)
        said = opens(page, fetch_from(address, site.pid))
    if said is not None:
        raise Fault("unopened", way.page(site.pid), said)


def _tidy(plan: Plan, way: Way, notes: list[str]) -> bool:
    """Delete what nobody uses. It can wait: a fault here is a note."""
    try:
        for step in plan.of("delete"):
            steadily(partial(way.host.delete, step.path), way.wait)
    except Fault as fault:
        notes.append(f"Old files were not all tidied away; the next publish will. {stopped(fault).sentence}")
        return False
    return True
