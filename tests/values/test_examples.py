"""The examples in docstrings are run."""

import doctest
import importlib
import pkgutil

import sitegen.values


def test_examples_in_docstrings_hold() -> None:
    names = [info.name for info in pkgutil.iter_modules(sitegen.values.__path__, "sitegen.values.")]
    results = [doctest.testmod(importlib.import_module(name)) for name in names]
    assert sum(result.failed for result in results) == 0
    assert sum(result.attempted for result in results) >= 5
