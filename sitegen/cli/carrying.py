"""Progress of what goes out, in files and bytes, on a terminal only."""

import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager

from sitegen.publish.way import Moved


@contextmanager
def carrying(*, quiet: bool) -> Iterator[Callable[[Moved], None]]:
    """Give a function that shows how many files and bytes have gone; nothing where nobody watches."""
    if quiet or not sys.stderr.isatty():
        yield lambda _moved: None
        return
    from rich.console import Console
    from rich.progress import BarColumn, DownloadColumn, Progress, TextColumn, TransferSpeedColumn

    columns = (TextColumn("{task.description:14}"), BarColumn(), DownloadColumn(), TransferSpeedColumn())
    with Progress(*columns, console=Console(stderr=True), transient=True) as bars:
        task = bars.add_task("Files", total=None)

        def show(moved: Moved) -> None:
            said = f"File {min(moved.files_done + 1, moved.files)} of {moved.files}"
            bars.update(task, description=said, completed=moved.bytes_done, total=moved.bytes)

        yield show
