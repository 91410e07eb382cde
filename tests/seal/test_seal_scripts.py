"""The scripts as they are put into a page: names that do not meet, and few bytes."""

import doctest
import gzip
import importlib
import re
from collections import Counter
from pathlib import Path

import pytest

import sitegen
from sitegen.render.scripts import joined
from tests.seal.scripts import MODULES

BROWSER = Path(sitegen.__file__).parent / "browser"


def test_no_name_stands_twice_when_modules_are_joined() -> None:
    texts = [path.read_text("utf-8") for path in sorted(BROWSER.glob("*.js"))]
    names = re.findall(
        r"^(?:export )?(?:async )?(?:const|let|function) (\w+)", "\n".join(texts), re.MULTILINE
    )
    ours = "".join((BROWSER / name).read_text("utf-8") for name in MODULES)
    assert not [
        name for name, count in Counter(names).items() if count > 1 and re.search(rf"\b{name}\b", ours)
    ]


def test_the_scripts_are_small() -> None:
    assert len(gzip.compress(joined(*MODULES).encode(), mtime=0)) < 8_000


def test_nothing_is_left_of_modules() -> None:
    assert not re.search(r"^(import|export)\b", joined(*MODULES), re.MULTILINE)


@pytest.mark.parametrize("name", ["base32", "phrase"])
def test_the_examples_in_the_docstrings(name: str) -> None:
    failed, tried = doctest.testmod(importlib.import_module(f"sitegen.seal.{name}"))
    assert (failed, tried > 0) == (0, True)
