"""What of the last build still stands, and need not be made again."""

from collections.abc import Mapping
from pathlib import Path

from sitegen.build.quick import Survey
from sitegen.build.state import Made
from sitegen.pictures.store import Store


def still_good(found: Survey, made: Mapping[str, Made], store: Store, live: Path) -> dict[str, Made]:
    """Give the events that are not among *made* now: unchanged ones, and those that could not be made again.

    Only what is whole is kept: all files of an event at *live* and among what is published, all pictures in
    *store*.
    """
    kept: dict[str, Made] = {}
    for name in found.keys:
        one = found.state.events.get(name)
        if name in made or one is None:
            continue
        files = [live / file for file in one.files]
        files += [found.settings.out / file for file in one.sealed]
        files += [store.path(Path(picture).name) for picture in one.pictures]
        if all(file.is_file() for file in files):
            kept[name] = one
    return kept
