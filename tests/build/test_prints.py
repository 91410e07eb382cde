"""PDFs lie beside the pages that they were printed from: a build keeps them, or says that it took them away."""

import json
from pathlib import Path

from tests.running import Command

EVENT = "2031-09-13-millrace"
PDFS = ("agreed.pdf", "order-pull.pdf")


def test_pdfs_stay_while_their_pages_do_and_never_vanish_in_silence(run: Command, studio: Path) -> None:
    assert run("build").returncode == 0
    folder = studio / "out" / "desk" / EVENT
    for name in PDFS:
        (folder / name).write_bytes(b"%PDF-1.7")
    (studio / "out" / "desk" / "index.html").unlink()
    done = run("build")
    assert "PDF" not in done.stdout
    assert {path.name for path in folder.glob("*.pdf")} == set(PDFS)
    piece = studio / "content" / "events" / EVENT / "02-low-bowls.md"
    piece.write_text(piece.read_text("utf-8").replace("minutes: ", "minutes: 1"), encoding="utf-8")
    done = run("build")
    # More minutes cost more and take longer, so both pages say something else now.
    assert f"Took away 2 PDFs of {EVENT}: the pages are others now." in done.stdout
    assert not list(folder.glob("*.pdf"))
    (folder / "order-pull.pdf").write_bytes(b"%PDF-1.7")
    piece.write_text(piece.read_text("utf-8").replace("minutes: ", "minutes: 1"), encoding="utf-8")
    assert json.loads(run("build", "--json").stdout)["unprinted"] == [f"{EVENT}/order-pull.pdf"]
