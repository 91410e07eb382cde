"""Hire pieces over all events: who has what out while others do, in builds that make only some anew."""

from collections.abc import Iterable, Mapping

from sitegen.build.quick import Survey
from sitegen.build.staging import Staging
from sitegen.build.state import Made
from sitegen.model.content import Shared
from sitegen.order.shelf import Beside, Out, elsewhere, stamp
from sitegen.render.order_shelf import on_the_shelf

Besides = Mapping[str, Mapping[str, Beside]]
"""What others have out, for each event and good."""

_PAGE = "order.html"


def besides(found: Survey, made: Mapping[str, Made]) -> Besides:
    """Say what is out beside each event: as it was just *made*, else as the last build knew it."""
    known = {**found.state.events, **made}
    return elsewhere({name: known[name].outs for name in found.keys if name in known})


def to_make_again(
    found: Survey, made: Mapping[str, Made], told: Besides, now: Besides, shared: Shared
) -> list[str]:
    """Name the events whose pages are wrong by what the others turned out to need.

    Of those just made, these are the ones that warn of too few pieces where there are enough, or the other
    way round; all else about the shelf is filled in later. Of kept ones, all that would be filled otherwise.
    """
    wrong = [
        name
        for name, one in made.items()
        if _short(one.outs, told.get(name, {}), shared) != _short(one.outs, now[name], shared)
    ]
    kept = [name for name in found.wanted if name not in made and name in found.state.events]
    return wrong + [name for name in kept if found.state.events[name].beside != stamp(now[name])]


def _short(outs: Iterable[Out], beside: Mapping[str, Beside], shared: Shared) -> list[tuple[str, Beside]]:
    others = [(out, beside.get(out.good, Beside())) for out in outs]
    return [
        (out.good, one)
        for out, one in others
        if out.pieces + one.pieces > (shared.goods[out.good].owned or 0)
    ]


def fill(
    desk: Staging, event: str, outs: Iterable[Out], beside: Mapping[str, Beside], shared: Shared
) -> None:
    """Write into an event's order what is left on the shelf. Raises OSError where the disk refuses."""
    page, out = desk.beside / event / _PAGE, tuple(outs)
    if out and page.is_file():
        page.write_text(on_the_shelf(page.read_text("utf-8"), out, beside, shared), "utf-8")
