"""The scripts' two homes, and secrets to seal with."""

from collections.abc import Iterator

import pytest

from sitegen.seal.keys import Secrets
from tests.seal.scripts import BOTH, Run, in_either


@pytest.fixture(scope="module", params=BOTH)
def run(request: pytest.FixtureRequest) -> Iterator[Run]:
    """Run scripts in Node, then in Chromium."""
    yield from in_either(request)


@pytest.fixture
def own() -> Secrets:
    return Secrets(bytes(range(0x40, 0x50)), bytes(range(16)))
