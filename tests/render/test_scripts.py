"""The page's scripts once they are one: what two modules both name would stop the whole page."""

import re
from collections import Counter

import pytest

from sitegen.render.scripts import CHOOSING, LOST, UNLOCKING, joined

_NAMED = re.compile(r"^(?:async )?(?:function|const|let|class) (\w+)", re.MULTILINE)


@pytest.mark.parametrize("modules", [CHOOSING, UNLOCKING, LOST])
def test_each_name_is_given_once_among_joined_modules(modules: tuple[str, ...]) -> None:
    names = Counter(_NAMED.findall(joined(*modules)))
    assert len(names) > 10
    assert {name for name, times in names.items() if times > 1} == set()
