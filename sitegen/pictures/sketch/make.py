"""Paint what the cache lacks, in parallel over the cores; a sketch that fails takes nothing else with it."""

from collections.abc import Sequence
from functools import partial

from sitegen.pictures.develop import sized
from sitegen.pictures.make import Progress, in_workers, unmade
from sitegen.pictures.opening import Fault
from sitegen.pictures.sketch.paint import paint
from sitegen.pictures.sketch.plan import Drawing
from sitegen.pictures.store import Store, missing, put


def make_sketches(
    drawings: Sequence[Drawing], store: Store, on_progress: Progress | None = None
) -> frozenset[Drawing]:
    """Paint all that *store* lacks; return the drawings that could not be painted.

    Raises OSError where the disk refuses; what was painted until then stays.
    """
    found = in_workers(unmade(drawings, store), partial(_paint_one, store=store), on_progress)
    return frozenset(one for one in drawings if one.renditions in found)


def _paint_one(drawing: Drawing, store: Store) -> Fault | None:
    try:
        pixels = paint(drawing.brief, drawing.size, drawing.others)
    except Exception:  # noqa: BLE001 - a page without its sketch is better than no page
        return Fault.CRASHED
    for one, content in sized(
        pixels, drawing.renditions, {one.name for one in missing(store, drawing.renditions)}
    ):
        put(store, one.name, content)
    return None
