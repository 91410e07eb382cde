"""Nothing private reaches the couple: two builds that differ in private fields alone give the same bytes."""

import re
from pathlib import Path

from bs4 import BeautifulSoup

from tests.build.planting import CANARY
from tests.running import whole


def couple_files(folder: Path) -> dict[str, bytes]:
    """What leaves the studio of the desk's files: the page, the sheets for the couple, and labels."""
    theirs = re.compile(r"/(proposal|agreed|for-you-to-make|labels)[^/]*\.html$")
    return {name: data for name, data in whole(folder / "out" / "desk").items() if theirs.search(name)}


def told(page: bytes) -> str:
    """What a page says: its text, its attributes and its data, without style sheets and our own script.

    A picture is named by a digest, in which any four digits may stand by chance.
    """
    soup = BeautifulSoup(page, "html.parser")
    for code in soup.find_all(["style", "script"]):
        if code.name == "style" or code.get("type") == "module":
            code.decompose()
    return re.sub(r"pictures/[0-9a-f]{24}-", "pictures/", str(soup))


def test_the_planting_changed_what_the_florist_sees(demo: Path, planted: Path) -> None:
    desk = (planted / "out" / "desk" / "2027-06-19-quillet-farm" / "index.html").read_text()
    assert CANARY in desk
    assert whole(planted / "out" / "desk") != whole(demo / "out" / "desk")


def test_the_couples_pages_are_the_same_bytes(demo: Path, planted: Path) -> None:
    mine = couple_files(planted)
    assert len(mine) >= 6
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
