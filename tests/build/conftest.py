"""Small studios to build."""

import shutil
import subprocess
from pathlib import Path

import pytest

from tests.running import ROOT, Command, sitegen


@pytest.fixture
def studio(tmp_path: Path) -> Path:
    """The small worked studio, to change at will; its content lies in `content`."""
    worked = ROOT / "tests" / "golden" / "millrace"
    shutil.copytree(worked, tmp_path / "content", ignore=shutil.ignore_patterns("figures.json"))
    return tmp_path


@pytest.fixture(scope="session")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The demo, built once for all tests that only look; its output lies in `out`."""
    folder = tmp_path_factory.mktemp("demo")
    shutil.copytree(ROOT / "content", folder / "content")
    done = sitegen(folder, "build", "--today", "2026-11-25")
    assert done.returncode == 0, done.stderr
    return folder


@pytest.fixture
def run(studio: Path) -> Command:
    def command(*arguments: str, **options: str) -> "subprocess.CompletedProcess[str]":
        return sitegen(studio, *arguments, **options)

    return command
