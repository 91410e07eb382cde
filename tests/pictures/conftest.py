from pathlib import Path

import pytest

from sitegen.pictures.store import Store
from tests.pictures.photos import scene


@pytest.fixture
def store(tmp_path: Path) -> Store:
    return Store(tmp_path / "cache")


@pytest.fixture
def photo(tmp_path: Path) -> Path:
    path = tmp_path / "photo.jpg"
    scene(1000, 750).save(path, quality=92)
    return path
