"""Every problem code has a smallest folder, and the exact text that the florist reads about it.

A case is a folder `cases/<code>/`: what lies in it is laid over a copy of `base/`, then `prepare.py` adds what
no repository can hold. `expected.txt` is the whole text of this code. To write the texts anew after changing a message:

    SITEGEN_UPDATE=1 pytest tests/messages

and read the difference as she would: is it clear what is wrong, where, why it matters, what to type?
"""

import os
import re
import shutil
from pathlib import Path

import pytest

from tests.messages.codes import codes
from tests.messages.prepare import PREPARE
from tests.messages.telling import codes_in, told

HERE = Path(__file__).parent
CASES = sorted(path.name for path in (HERE / "cases").iterdir())
# Codes that no content folder shows to `check` by itself, and the test that shows each of them.
# What nobody may open cannot be made where tests run as root.
ELSEWHERE = {
    "apply-lost": "tests/build/test_fitting.py",
    "apply-nothing": "tests/build/test_fitting.py",
    "folder-closed": "tests/load/test_tree.py",
    "key-left": "tests/build/test_sealed_build.py",
    "key-lost": "tests/build/test_sealed_build.py",
    "key-unusable": "tests/build/test_sealed_build.py",
    "minimum-lost": "tests/order/test_placed.py",
    "order-unproven": "tests/order/test_minimums.py",
    "record-chain": "tests/records/test_journal.py",
    "record-damaged": "tests/records/test_journal.py",
    "record-edited": "tests/records/test_journal.py",
    "record-foreign": "tests/records/test_journal.py",
    "record-missing": "tests/records/test_journal.py",
    "record-newer": "tests/records/test_journal.py",
    "record-twice": "tests/records/test_journal.py",
    "seal-large": "tests/build/test_sealed_build.py",
    "sealed-no": "tests/build/test_sealed_build.py",
    "sketch-failed": "tests/build/test_sketches.py",
    "theme-unreadable": "tests/render/test_themes.py",
}


def laid_out(code: str, home: Path) -> Path:
    """Lay a case over the base in *home*."""
    shutil.copytree(HERE / "base", home, dirs_exist_ok=True)
    shutil.copytree(HERE / "cases" / code, home, dirs_exist_ok=True)
    if code in PREPARE:
        PREPARE[code](home)
    return home


@pytest.mark.parametrize("code", CASES)
def test_the_text_of_each_problem(code: str, tmp_path: Path) -> None:
    text = told(laid_out(code, tmp_path), code)
    expected = HERE / "cases" / code / "expected.txt"
    if os.environ.get("SITEGEN_UPDATE"):
        expected.write_text(text, encoding="utf-8")
    assert text == expected.read_text(encoding="utf-8")


@pytest.mark.parametrize("code", CASES)
def test_a_case_shows_its_code_and_no_other(code: str, tmp_path: Path) -> None:
    assert set(codes_in(laid_out(code, tmp_path))) == {code, *ALSO.get(code, ())}


# Where a code cannot come alone.
ALSO = {"problems-many": ("stem-unknown",)}


def test_every_code_has_a_case() -> None:
    assert codes() == {*CASES, *ELSEWHERE}


@pytest.mark.parametrize(("code", "test"), ELSEWHERE.items())
def test_a_code_without_a_case_is_shown_elsewhere(code: str, test: str) -> None:
    assert f'"{code}"' in (HERE.parents[1] / test).read_text(encoding="utf-8")


def test_the_base_has_no_problem(tmp_path: Path) -> None:
    shutil.copytree(HERE / "base", tmp_path, dirs_exist_ok=True)
    assert told(tmp_path) == ""


@pytest.mark.parametrize("code", CASES)
def test_the_tone_of_each_text(code: str) -> None:
    text = (HERE / "cases" / code / "expected.txt").read_text(encoding="utf-8")
    heads = re.findall(r"^(\S.*?):\d+:\d+: (?:error|warning): (.*)  \[[a-z-]+\]$", text, re.MULTILINE)
    assert heads
    for _, what in heads:
        assert not what.endswith(".")
        assert not re.match(r"[A-Z][a-z]", what)
    assert not re.search(r"None|dict|KeyError|tuple|Traceback|object|\bstr\b", text)
    assert len(re.findall(r"^why:  \S", text, re.MULTILINE)) == len(heads)
    assert len(re.findall(r"^fix:  \S", text, re.MULTILINE)) == len(heads)
