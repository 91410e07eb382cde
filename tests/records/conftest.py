"""An invented event's folder and snapshots of it, made in memory."""

from pathlib import Path

import pytest


@pytest.fixture
def event(tmp_path: Path) -> Path:
    """The folder of an event that has no records yet."""
    folder = tmp_path / "events" / "2031-06-14-test"
    folder.mkdir(parents=True)
    return folder
