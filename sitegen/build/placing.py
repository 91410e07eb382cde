"""Puts what was built in place: both folders whole, or, in a preview, only what changed."""

from collections.abc import Iterable, Mapping
from pathlib import Path

from sitegen.build import prints, staging
from sitegen.build.quick import SEALED
from sitegen.build.staging import Staging
from sitegen.build.state import Made
from sitegen.pictures.store import Store


def swap_whole(
    desk: Staging, published: Staging, kept: Mapping[str, Made], pictures: Iterable[str], store: Store
) -> tuple[str, ...]:
    """Take over the files of *kept* events, link all pictures, and swap both folders in turn.

    Gives the PDFs that are taken away with pages that changed.
    """
    for made in kept.values():
        for file in made.files:
            staging.keep(desk, file)
        for file in made.sealed:
            staging.keep(published, file.removeprefix(f"{SEALED}/"))
    for name in pictures:
        staging.take(desk, name, store.path(Path(name).name))
    left = prints.bring(desk)
    staging.swap(desk)
    staging.swap(published)
    return left


def swap_changed(
    desk: Staging, published: Staging, before: Mapping[str, Made], now: Mapping[str, Made], store: Store
) -> tuple[str, ...]:
    """Leave what is kept where it lies; bring what is new, and take away what is gone, of both folders.

    *before* and *now* are the events of the last build and of this one. Gives the PDFs that are taken away
    with pages that changed.
    """
    left = prints.bring(desk)
    for name in sorted({name for made in now.values() for name in made.pictures}):
        if not (desk.live / name).exists():
            staging.take(desk, name, store.path(Path(name).name))
    staging.exchange(desk, sorted(before.keys() - now.keys()))
    staging.exchange(published, sorted(_folders(before) - _folders(now)))
    return left


def _folders(events: Mapping[str, Made]) -> set[str]:
    """The folders of published pages: each lies in one of its own."""
    return {name.split("/")[1] for made in events.values() for name in made.sealed}
