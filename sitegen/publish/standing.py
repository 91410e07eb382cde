"""How a receipt's standing moves on. Pure."""

from collections.abc import Mapping
from dataclasses import replace

from sitegen.publish.look import Seen
from sitegen.publish.plan import Plan
from sitegen.publish.receipt import Edition, Sent, Standing
from sitegen.publish.site import SealedSite, blob_path, digest


def intending(standing: Standing, page: str, site: Mapping[str, str], address: str) -> Standing:
    """About to switch to *page*, with shared files as *site*: a run after a killed one knows them as ours."""
    return replace(standing, pending=page, site={**standing.site, **site}, address=address)


def published(standing: Standing, site: SealedSite, seen: Seen, now: int) -> Standing:
    """The site stands; blobs that it does not use are left from now on, found ones in no receipt too."""
    page = digest(site.index)
    edition = Edition(now, page, tuple(sorted(site.blobs)))
    before = tuple(one for one in standing.editions if one.index != page)
    known = {name: standing.blobs.get(name, Sent(size, "")) for name, size in seen.blobs.items()}
    blobs = {name: _left(sent, now) for name, sent in {**known, **standing.blobs}.items()}
    blobs |= {
        name: Sent(site.size(name), digest(site.content(blob_path(site.pid, name)))) for name in site.blobs
    }
    return replace(
        standing, editions=(*before, edition)[-2:], blobs=blobs, pending="", withdrawn="", seen=False
    )


def tidied(standing: Standing, plan: Plan) -> Standing:
    """What the plan deletes is gone."""
    gone = {step.path for step in plan.of("delete")}
    return replace(
        standing,
        blobs={
            name: sent for name, sent in standing.blobs.items() if blob_path(standing.pid, name) not in gone
        },
    )


def taken_down(standing: Standing, notice: str) -> Standing:
    """A notice stands in the page's place, and no blob is there."""
    return replace(standing, blobs={}, pending="", withdrawn=notice, seen=False)


def _left(sent: Sent, now: int) -> Sent:
    return sent if sent.left is not None else replace(sent, left=now)
