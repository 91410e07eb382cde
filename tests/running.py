"""The command line as a person would use it: in this process, or in one of its own where the process is the point."""

import io
import os
import subprocess
import sys
from collections.abc import Callable, Iterator
from contextlib import chdir, contextmanager, redirect_stderr, redirect_stdout
from pathlib import Path

from sitegen.cli.main import run

ROOT = Path(__file__).parent.parent
DAY = "2031-06-01"
DEMO_DAY = ("--today", "2026-11-25")

Command = Callable[..., "subprocess.CompletedProcess[str]"]


def sitegen(folder: Path, *arguments: str, **environment: str) -> "subprocess.CompletedProcess[str]":
    """Run the command line in *folder* on the day of the worked studio, or as the arguments say.

    What it imports is loaded once for all tests. An exception that reaches the top is raised, as our own bug.
    """
    out, errors = io.StringIO(), io.StringIO()
    with chdir(folder), _environment(environment), redirect_stdout(out), redirect_stderr(errors):
        try:
            code = run(arguments)
        except SystemExit as left:  # how argparse refuses
            code = int(left.code or 0)
    return subprocess.CompletedProcess(arguments, code, out.getvalue(), errors.getvalue())


@contextmanager
def _environment(more: dict[str, str]) -> Iterator[None]:
    before = dict(os.environ)
    os.environ.update({"SITEGEN_TODAY": DAY, **more})
    try:
        yield
    finally:
        for name in os.environ.keys() - before.keys():
            del os.environ[name]
        os.environ.update(before)


def sitegen_apart(folder: Path, *arguments: str, **environment: str) -> "subprocess.CompletedProcess[str]":
    """Do the same in a process of its own: for what is set at its start, as the seed of hashes."""
    return subprocess.run(
        [sys.executable, "-m", "sitegen", *arguments],
        cwd=folder,
        env={**os.environ, "SITEGEN_TODAY": DAY, **environment},
        capture_output=True,
        text=True,
        timeout=60,
        check=False,
    )


def whole(folder: Path) -> dict[str, bytes]:
    """Every file below *folder* with its bytes."""
    return {
        path.relative_to(folder).as_posix(): path.read_bytes()
        for path in sorted(folder.rglob("*"))
        if path.is_file()
    }
