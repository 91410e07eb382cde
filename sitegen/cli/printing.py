"""`sitegen order --pdf`: one file a sheet, each counting its own pages, beside what it is printed from."""

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from sitegen.cli.chromium import NotPrinted, printer
from sitegen.cli.exits import OUTSIDE, Stop
from sitegen.cli.progress import watched

_SHEET = re.compile(r'<section class="sheet" id="([\w-]+)">')
_WHOLE = ("agreed.html", "for-you-to-make.html", "labels-10.html", "labels-21.html")


@dataclass(frozen=True, slots=True)
class Job:
    """What becomes one PDF: a page, or one of its sheets."""

    page: Path
    sheet: str
    pdf: Path


def print_event(folder: Path, paper: str, *, quiet: bool) -> list[Path]:
    """Print every sheet of the event whose pages lie in *folder*, and give the files.

    Raises `Stop` where no browser is found or it fails; OSError where the disk refuses.
    """
    return _print(list(jobs_of(folder)), paper, quiet=quiet)


def print_sheets(page: Path, paper: str, *, quiet: bool) -> list[Path]:
    """Print every sheet of one page, beside it, as `print_event` does."""
    return _print(list(_sheets_of(page)), paper, quiet=quiet)


def _print(jobs: Sequence[Job], paper: str, *, quiet: bool) -> list[Path]:
    try:
        with printer() as running, watched(quiet=quiet) as progress:
            opened: Path | None = None
            for done, job in enumerate(jobs):
                progress("PDF", done, len(jobs))
                if job.page != opened:
                    running.open(job.page)
                    opened = job.page
                if job.sheet:
                    running.turn_to(job.sheet)
                _write(job.pdf, running.pdf(paper))
            progress("PDF", len(jobs), len(jobs))
    except NotPrinted as fault:
        raise Stop(str(fault), OUTSIDE) from None
    return [job.pdf for job in jobs]


def jobs_of(folder: Path) -> Iterator[Job]:
    """List what is printed: each sheet of the order, then the pages that go to others."""
    yield from _sheets_of(folder / "order.html")
    for name in _WHOLE:
        if (folder / name).is_file():
            yield Job(folder / name, "", (folder / name).with_suffix(".pdf"))


def _sheets_of(page: Path) -> Iterator[Job]:
    for sheet in _SHEET.findall(page.read_text(encoding="utf-8")):
        yield Job(page, sheet, page.with_name(f"{page.stem}-{sheet}.pdf"))


def _write(path: Path, data: bytes) -> None:
    beside = path.with_suffix(".part")
    beside.write_bytes(data)
    beside.replace(path)
