"""PDFs that were printed from a desk's pages: kept while their page is the same, else taken away and named.

A build makes none, so it must not lose one in silence; nor may one stand beside a page that says otherwise.
"""

from collections.abc import Iterator
from pathlib import Path

from sitegen.build import staging
from sitegen.build.staging import Staging


def bring(desk: Staging) -> tuple[str, ...]:
    """Put the PDFs beside whose pages are there, the same; give those that are left behind, by name.

    To be called when all pages lie beside. What lies in a folder of which nothing does is left as it is.
    """
    left = []
    for pdf in sorted(desk.live.glob("*/*.pdf")):
        name = pdf.relative_to(desk.live).as_posix()
        if (desk.beside / pdf.parent.name).is_dir():
            if any(_same(desk, page) for page in _pages(pdf)):
                staging.keep(desk, name)
            else:
                left.append(name)
    return tuple(left)


def _pages(pdf: Path) -> Iterator[Path]:
    """A sheet's file has its page's name, then the sheet's: `order-pull.pdf`; whole pages have their own."""
    parts = pdf.stem.split("-")
    for end in range(len(parts), 0, -1):
        page = pdf.with_name(f"{'-'.join(parts[:end])}.html")
        if page.is_file():
            yield page
            return


def _same(desk: Staging, page: Path) -> bool:
    new = desk.beside / page.relative_to(desk.live)
    return new.is_file() and (new.samefile(page) or new.read_bytes() == page.read_bytes())
