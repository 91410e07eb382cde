"""A currency that nobody knows: a mistyped code is mended, a word is asked for its code."""

import shutil
from pathlib import Path

import pytest

from tests.messages.telling import findings_in

BASE = Path(__file__).parents[1] / "messages" / "base"


@pytest.mark.parametrize(
    ("written", "fix"),
    [
        ("usd", 'write "USD"'),
        ("UDS", 'write "USD"'),
        ("dollars", "write its three letters, such as USD, EUR or JPY"),
        ("$", "write its three letters, such as USD, EUR or JPY"),
        ("pounds sterling", "write its three letters, such as USD, EUR or JPY"),
    ],
)
def test_only_a_code_is_taken_for_another(written: str, fix: str, tmp_path: Path) -> None:
    shutil.copytree(BASE, tmp_path, dirs_exist_ok=True)
    studio = tmp_path / "content" / "studio.md"
    studio.write_text(studio.read_text("utf-8").replace("currency: USD", f"currency: {written}"), "utf-8")
    assert [(one.code, one.fix) for one in findings_in(tmp_path)] == [("currency-unknown", fix)]
