"""The command line as a person would use it, in a process of its own."""

import os
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

ROOT = Path(__file__).parent.parent
DAY = "2031-06-01"

Command = Callable[..., "subprocess.CompletedProcess[str]"]


def sitegen(folder: Path, *arguments: str, **environment: str) -> "subprocess.CompletedProcess[str]":
    """Run the command line in *folder* on the day of the worked studio, or as the arguments say."""
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
