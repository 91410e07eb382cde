"""The examples in docstrings are run, in whatever file they stand."""

import doctest
import importlib
from pathlib import Path

import sitegen


def test_examples_in_docstrings_hold() -> None:
    package = Path(sitegen.__file__).parent
    paths = [path for path in sorted(package.rglob("*.py")) if "    >>> " in path.read_text("utf-8")]
    names = [".".join(path.relative_to(package.parent).with_suffix("").parts) for path in paths]
    results = {name: doctest.testmod(importlib.import_module(name)) for name in names}
    assert not [name for name, result in results.items() if result.failed]
    assert sum(result.attempted for result in results.values()) >= 10
