"""What the README points at is there: its pictures, and the lines of the catalogue."""

import re

import pytest
import yaml

from tests.running import ROOT

README = (ROOT / "README.md").read_text("utf-8")
STEMS = ROOT / "content" / "stems.yaml"
LINKS = re.findall(r'([\d/]+) × <a href="content/stems\.yaml#L(\d+)">([^<]+)</a>', README)
PICTURES = re.findall(r'!\[[^\]]+\]\(([^)]+)\)|<img src="([^"]+)"[^>]* alt="[^"]', README)


@pytest.mark.parametrize("path", [one or other for one, other in PICTURES])
def test_each_picture_is_there_and_has_words(path: str) -> None:
    assert (ROOT / path).is_file()


@pytest.mark.parametrize(("amount", "line", "name"), LINKS)
def test_each_stem_beside_the_picture_leads_to_its_line(amount: str, line: str, name: str) -> None:
    written = STEMS.read_text("utf-8").split("\n")
    found = re.fullmatch(r"([a-z-]+):", written[int(line) - 1])
    assert found, f"line {line} begins no stem"
    assert yaml.safe_load(STEMS.read_text("utf-8"))[found[1]]["name"] == name
    recipe = (ROOT / "content/events/2027-06-19-quillet-farm/01-bridal-bouquet.md").read_text("utf-8")
    assert re.search(rf"^  {found[1]}: {amount}$", recipe, re.MULTILINE)


def test_all_of_the_recipe_stands_beside_the_picture() -> None:
    assert len(LINKS) == 12
