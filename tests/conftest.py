"""Settings for all tests, and what is dear to start and so is shared by them: a browser, and the demo, built."""

import shutil
from collections.abc import Callable, Iterator
from multiprocessing import forkserver
from pathlib import Path

import pytest
from filelock import FileLock
from hypothesis import settings
from playwright.sync_api import Browser, sync_playwright

from sitegen.pictures.sketch.plan import SIZES
from tests.chromium import ARGUMENTS, CHROMIUM, MAY_SKIP
from tests.running import DEMO_DAY, ROOT, sitegen

# A machine that does other work too must not fail a law for being slow; and the same examples are tried each time.
settings.register_profile("steady", deadline=None, derandomize=True)
settings.load_profile("steady")


@pytest.fixture(scope="session", autouse=True)
def processes() -> None:
    """Start the one server that processes are forked from, with all that any of them needs.

    A build would start it with what photos need alone, and the dozens that are killed would load the rest each.
    """
    forkserver.set_forkserver_preload(["tests.publish.killed"])
    forkserver.ensure_running()


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    """A real Chromium; skipped only where none is installed. Whoever opens a page or context closes it."""
    if MAY_SKIP:
        pytest.skip("no Chromium is installed")
    with sync_playwright() as playwright:
        started = playwright.chromium.launch(executable_path=CHROMIUM, args=ARGUMENTS)
        yield started
        started.close()


@pytest.fixture(scope="session", autouse=True)
def _small_sketches() -> Iterator[None]:
    """Sketches of a third of their width: what is slow in painting grows with the paper, what is tested does not."""
    with pytest.MonkeyPatch.context() as patch:
        for form, (width, height) in SIZES.items():
            patch.setitem(SIZES, form, (width // 3, height // 3))
        yield


@pytest.fixture(scope="session")
def demo(tmp_path_factory: pytest.TempPathFactory, worker_id: str) -> Path:
    """The demo, built once for all tests of all workers, which only look; its output lies in `out`."""
    alone = worker_id == "master"
    folder = (tmp_path_factory.getbasetemp() if alone else tmp_path_factory.getbasetemp().parent) / "demo"
    with FileLock(f"{folder}.lock"):
        if not (folder / "out" / "desk").is_dir():
            shutil.copytree(ROOT / "content", folder / "content")
            done = sitegen(folder, "build", *DEMO_DAY)
            assert done.returncode == 0, done.stderr
    return folder


@pytest.fixture(scope="session")
def like_demo(demo: Path) -> Callable[[Path], Path]:
    """Lays the demo's content in a folder, to change at will, with its pictures made already."""

    def lay(folder: Path) -> Path:
        shutil.copytree(demo / "content", folder / "content")
        shutil.copytree(demo / ".sitegen" / "cache" / "pictures", folder / ".sitegen" / "cache" / "pictures")
        return folder

    return lay
