"""The scripts' two homes, and secrets to seal with."""

from collections.abc import Iterator

import pytest

from sitegen.seal.keys import Secrets
from tests.seal.scripts import Run, chromium, in_node


@pytest.fixture(scope="module", params=["node", pytest.param("chromium", marks=pytest.mark.browser)])
def run(request: pytest.FixtureRequest) -> Iterator[Run]:
    """Run scripts in Node, then in Chromium."""
    if request.param == "node":
        yield in_node
    else:
        with chromium() as inside:
            yield inside


@pytest.fixture
def own() -> Secrets:
    return Secrets(bytes(range(0x40, 0x50)), bytes(range(16)))
