"""What is left on the shelf, on the hire sheet: known only when all events are worked out.

Until then a mark stands in the page, a comment to every browser, and is filled at the end of the build.
"""

from collections.abc import Mapping, Sequence

from markupsafe import Markup, escape

from sitegen.model.content import Shared
from sitegen.order.shelf import Beside, Out
from sitegen.render.voice import florist_voice
from sitegen.render.words import Words


def shelf_mark(good: str) -> Markup:
    """Give the mark for a good; the letters of a name that could end a comment are written as numbers."""
    return Markup("<!--shelf {}-->").format("".join(c if c.isalnum() else f"_{ord(c):x}_" for c in good))


def on_the_shelf(page: str, outs: Sequence[Out], beside: Mapping[str, Beside], shared: Shared) -> str:
    """Fill the marks of *page* with what is left while *outs* and what is *beside* them are away."""
    words = florist_voice(shared.studio.language, shared.currency).words
    for out in outs:
        said = shelf_line(
            shared.goods[out.good].owned or 0, out.pieces, beside.get(out.good, Beside()), words
        )
        page = page.replace(str(shelf_mark(out.good)), str(escape(said)))
    return page


def shelf_line(owned: int, out: int, beside: Beside, _: Words) -> str:
    """Say how many are left: `9 left on the shelf, 5 out for Lunch in Pinnock Street`."""
    left = owned - out - beside.pieces
    if left < 0:
        said = _("{n} more than you own", n=-left)
    else:
        said = _("{n} left on the shelf", n=left) if left else _("none left on the shelf")
    if beside.pieces:
        said = _("{said}, {n} out for {events}", said=said, n=beside.pieces, events="; ".join(beside.events))
    return said
