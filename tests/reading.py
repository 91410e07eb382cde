"""Reads whole content folders for tests."""

from pathlib import Path

from sitegen.check.event import check_event
from sitegen.check.shared import check_shared
from sitegen.load.tree import scan
from sitegen.model.content import EventFolder, Shared
from sitegen.values.problem import has_errors

DEMO = Path(__file__).parents[1] / "content"


def read_content(root: Path) -> tuple[Shared, list[EventFolder]]:
    """Give what a sound content folder says."""
    tree = scan(root, root.name)
    found = check_shared(tree)
    assert found.shared is not None
    assert not has_errors(found.problems), found.problems
    folders = [check_event(files, found.shared) for files in tree.events]
    for event in folders:
        assert event.folder is not None, event.problems
    return found.shared, [event.folder for event in folders if event.folder]
