"""Progress bars, on a terminal only."""

import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager


@contextmanager
def watched(*, quiet: bool) -> Iterator[Callable[[str, int, int], None]]:
    """Give a function that shows how far a stage has come; it shows nothing where nobody watches."""
    if quiet or not sys.stderr.isatty():
        yield lambda _stage, _done, _total: None
        return
    from rich.console import Console
    from rich.progress import BarColumn, MofNCompleteColumn, Progress, TaskID, TextColumn, TimeRemainingColumn

    columns = (TextColumn("{task.description:9}"), BarColumn(), MofNCompleteColumn(), TimeRemainingColumn())
    with Progress(*columns, console=Console(stderr=True), transient=True) as bars:
        tasks: dict[str, TaskID] = {}

        def show(stage: str, done: int, total: int) -> None:
            if stage not in tasks:
                tasks[stage] = bars.add_task(stage, total=total)
            bars.update(tasks[stage], completed=done, total=total)

        yield show
