"""Small studios to build."""

import shutil
import subprocess
from collections.abc import Callable
from pathlib import Path

import pytest

from tests.build.planting import plant
from tests.running import DEMO_DAY, ROOT, Command, sitegen, sitegen_apart


@pytest.fixture(scope="session")
def worked() -> Callable[[Path], Path]:
    """Lays the content of the small worked studio in a folder."""

    def lay(folder: Path) -> Path:
        given = ROOT / "tests" / "golden" / "millrace"
        shutil.copytree(given, folder / "content", ignore=shutil.ignore_patterns("figures.json"))
        return folder

    return lay


@pytest.fixture
def studio(worked: Callable[[Path], Path], tmp_path: Path) -> Path:
    """The small worked studio, to change at will; its content lies in `content`."""
    return worked(tmp_path)


@pytest.fixture(scope="session")
def planted(like_demo: Callable[[Path], Path], tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The demo with a canary in every private field, built."""
    folder = like_demo(tmp_path_factory.mktemp("planted"))
    plant(folder / "content")
    done = sitegen(folder, "build", *DEMO_DAY)
    assert done.returncode == 0, done.stderr
    return folder


@pytest.fixture
def run(studio: Path) -> Command:
    def command(*arguments: str, **options: str) -> "subprocess.CompletedProcess[str]":
        return sitegen(studio, *arguments, **options)

    return command


@pytest.fixture
def run_apart(studio: Path) -> Command:
    """Like `run`, in a process of its own."""

    def command(*arguments: str, **options: str) -> "subprocess.CompletedProcess[str]":
        return sitegen_apart(studio, *arguments, **options)

    return command
