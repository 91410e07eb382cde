"""Sheets as PDF files: a real Chromium prints them, and what can go wrong with one is said in a sentence."""

import json
import os
import shutil
import stat
import sys
from pathlib import Path

import pdfplumber
import pytest

from sitegen.cli.chromium import NotPrinted, find_chromium, printer
from sitegen.cli.printing import jobs_of
from tests.chromium import CHROMIUM, MAY_SKIP
from tests.running import ROOT, sitegen

TALKS = r"""#!/bin/sh
exec "$PYTHON" -c '
import os
while True:
    if not os.read(3, 1 << 16): break
    os.write(4, b"{\"id\":1,\"error\":{\"message\":\"not today\"}}\0")
'
"""


def program(folder: Path, text: str) -> str:
    path = folder / "browser"
    path.write_text(text)
    path.chmod(path.stat().st_mode | stat.S_IXUSR)
    return str(path)


def fault_of(monkeypatch: pytest.MonkeyPatch, named: str) -> str:
    monkeypatch.setenv("SITEGEN_CHROMIUM", named)
    with pytest.raises(NotPrinted) as caught, printer(patience=1):
        pass
    return str(caught.value)


def test_a_browser_that_says_nothing_is_ended(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    silent = program(tmp_path, "#!/bin/sh\necho $$ > pid\nexec sleep 60\n")
    monkeypatch.chdir(tmp_path)
    assert fault_of(monkeypatch, silent) == "the browser did not answer within 1 seconds"
    with pytest.raises(ProcessLookupError):
        os.kill(int((tmp_path / "pid").read_text()), 0)


def test_a_browser_that_ends_is_told(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    gone = program(tmp_path, "#!/bin/sh\nexit 1\n")
    assert "the browser ended before it had printed" in fault_of(monkeypatch, gone)


def test_a_browser_that_refuses_is_told(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setenv("PYTHON", sys.executable)
    said = fault_of(monkeypatch, program(tmp_path, TALKS))
    assert said == "the browser refused Target.createTarget: not today"


def test_without_a_browser_it_says_what_to_do(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setenv("PATH", str(tmp_path))
    monkeypatch.delenv("SITEGEN_CHROMIUM", raising=False)
    monkeypatch.setattr("sitegen.cli.chromium._PROGRAMS", ("chromium",))
    with pytest.raises(NotPrinted, match="no Chromium or Chrome was found"):
        find_chromium()
    monkeypatch.setenv("SITEGEN_CHROMIUM", "/nowhere/at-all")
    with pytest.raises(NotPrinted, match="no program here"):
        find_chromium()


def test_what_is_printed_are_the_sheets_and_the_pages_of_others(demo: Path) -> None:
    folder = demo / "out" / "desk" / "2027-06-19-quillet-farm"
    jobs = list(jobs_of(folder))
    names = [job.pdf.name for job in jobs]
    assert names[:6] == [
        "order-buying.pdf",
        "order-cost.pdf",
        "order-goods.pdf",
        "order-hire.pdf",
        "order-pull.pdf",
        "order-cards.pdf",
    ]
    assert "agreed.pdf" in names
    assert len(set(names)) == len(names)
    assert all(job.page.is_file() for job in jobs)


@pytest.fixture
def studio(tmp_path: Path) -> Path:
    """The small worked studio, to build in a place of its own."""
    worked = ROOT / "tests" / "golden" / "millrace"
    shutil.copytree(worked, tmp_path / "content", ignore=shutil.ignore_patterns("figures.json"))
    return tmp_path


@pytest.mark.browser
@pytest.mark.skipif(MAY_SKIP, reason="no Chromium is installed")
def test_every_sheet_becomes_a_file_that_counts_its_own_pages(studio: Path) -> None:
    done = sitegen(
        studio, "order", "mill", "--pdf", "--paper", "a4", "--json", SITEGEN_CHROMIUM=str(CHROMIUM)
    )
    assert done.returncode == 0, done.stderr
    files = [studio / name for name in json.loads(done.stdout)["pdf"]]
    assert {path.name for path in files} >= {
        "order-pull.pdf",
        "order-buying.pdf",
        "order-cards.pdf",
        "agreed.pdf",
    }
    for path in files:
        with pdfplumber.open(path) as pdf:
            pages = [(page.width, page.height, page.extract_text()) for page in pdf.pages]
        for i, (width, height, text) in enumerate(pages, 1):
            assert (round(width * 25.4 / 72), round(height * 25.4 / 72)) == (210, 297), path
            assert f"page {i} of {len(pages)}" in text, path
    assert not list(studio.rglob("*.part"))


def test_a_missing_browser_ends_with_the_code_of_the_outside(studio: Path) -> None:
    done = sitegen(studio, "order", "mill", "--pdf", SITEGEN_CHROMIUM=str(studio / "none"))
    assert done.returncode == 3
    assert "SITEGEN_CHROMIUM names" in done.stderr
    assert "order.html" in done.stdout
