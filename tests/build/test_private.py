"""Nothing private reaches the couple: two builds that differ in private fields alone give the same bytes."""

import re
import shutil
from collections.abc import Callable
from pathlib import Path

import pytest
from bs4 import BeautifulSoup

from tests.running import sitegen, whole

CANARY = "QXCANARY"
DAY = ("--today", "2026-11-25")


def couple_files(folder: Path) -> dict[str, bytes]:
    return {name: data for name, data in whole(folder / "out" / "desk").items() if "proposal" in name}


def told(page: bytes) -> str:
    """What a page says: its text, its attributes and its data, without style sheets and our own script."""
    soup = BeautifulSoup(page, "html.parser")
    for code in soup.find_all(["style", "script"]):
        if code.name == "style" or code.get("type") == "module":
            code.decompose()
    return str(soup)


def each_file(content: Path, pattern: str, change: Callable[[str], str]) -> None:
    for path in sorted(content.glob(pattern)):
        path.write_text(change(path.read_text()))


def plant(content: Path) -> None:
    """Write a canary, or another number, into every private field that the demo has."""

    def shared(text: str) -> str:
        text = re.sub(r"sold_as: \"[^\"]*\"", f'sold_as: "{CANARY}SOLD"', text)
        text = re.sub(r"(?m)^(  private: ).*$", rf"\g<1>{CANARY}STEM", text)
        text = re.sub(r"replace: [0-9.]+", "replace: 7131.13", text)
        return re.sub(r"owned: [0-9]+", "owned: 7131", text)

    def suppliers(text: str) -> str:
        text = re.sub(r"(name: )[^,}\n]+", rf"\g<1>{CANARY}NAME", text)
        text = re.sub(r"(phone: )[^,}\n]+", r"\g<1>555-0199", text)
        return re.sub(r"(email: )[^,}\n]+", rf"\g<1>{CANARY.lower()}@mail.example", text)

    def event(text: str) -> str:
        text = re.sub(r"(?m)^budget: .*$", "budget: 7131.13", text)
        return re.sub(r"(?m)^(\s*private: ).*$", rf"\g<1>{CANARY}NOTE", text)

    each_file(content, "stems.yaml", shared)
    each_file(content, "goods.yaml", shared)
    each_file(content, "suppliers.yaml", suppliers)
    each_file(content, "events/*/*.md", event)
    studio = content / "studio.md"
    studio.write_text(re.sub(r"(pay: )[0-9.]+", r"\g<1>71.31", studio.read_text()))


@pytest.fixture(scope="module")
def planted(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("planted")
    shutil.copytree(Path(__file__).parent.parent.parent / "content", folder / "content")
    plant(folder / "content")
    done = sitegen(folder, "build", *DAY)
    assert done.returncode == 0, done.stderr
    return folder


def test_the_planting_changed_what_the_florist_sees(demo: Path, planted: Path) -> None:
    desk = (planted / "out" / "desk" / "2027-06-19-quillet-farm" / "index.html").read_text()
    assert CANARY in desk
    assert whole(planted / "out" / "desk") != whole(demo / "out" / "desk")


def test_the_couples_pages_are_the_same_bytes(demo: Path, planted: Path) -> None:
    mine = couple_files(planted)
    assert len(mine) >= 3
    theirs = {name: data for name, data in couple_files(demo).items() if "one-file" not in name}
    assert {name: data for name, data in mine.items() if "one-file" not in name} == theirs


def test_no_canary_and_no_private_word_in_the_couples_pages(demo: Path, planted: Path) -> None:
    suppliers = re.findall(r"name: \"?([A-Z][^,}\"\n]+)", (demo / "content" / "suppliers.yaml").read_text())
    assert suppliers
    for name, data in (couple_files(planted) | couple_files(demo)).items():
        text = told(data).lower()
        assert CANARY.lower() not in text, name
        assert "7131" not in text, name
        for word in (*suppliers, "markup", "mark-up", "margin", "wholesale"):
            assert word.lower() not in text, (name, word)


def test_pictures_carry_nothing_of_the_camera(demo: Path) -> None:
    pictures = {
        name: data for name, data in whole(demo / "out" / "desk").items() if name.startswith("pictures/")
    }
    assert pictures
    for name, data in pictures.items():
        assert b"Exif" not in data, name
        assert b"ICC_PROFILE" not in data, name
        assert b"http" not in data, name
