"""Servers that take a connection and never say a word: left in time, and asked again within bounds."""

import socket
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path

import pytest

from sitegen.model.publish import S3
from sitegen.publish import address as addresses
from sitegen.publish import s3 as storage
from sitegen.publish.address import Address
from sitegen.publish.credentials import S3Login
from sitegen.publish.fault import Fault, Stopped
from sitegen.publish.folder import FolderHost
from sitegen.publish.run import publish
from tests.publish.sites import a_way, make_site, opens, waited


@pytest.fixture
def silent() -> Iterator[str]:
    """The address of a server that listens, and no more."""
    with closing(socket.create_server(("127.0.0.1", 0))) as server:
        yield f"http://127.0.0.1:{server.getsockname()[1]}/"


def test_an_address_that_never_answers(silent: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(addresses, "_SECONDS", 0.05)
    way = a_way(FolderHost(tmp_path / "site"), tmp_path, Address(silent))
    result = publish(make_site("new"), way, opens)
    assert isinstance(result, Stopped)
    assert result.kind == "again"
    assert "What readers see has not changed." in result.sentence
    assert waited(way) == [1, 2, 4]
    assert not (tmp_path / "site").exists()


def test_storage_that_never_answers(silent: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(storage, "_SECONDS", 0.05)
    host = storage.S3Host(S3(bucket="flowers", endpoint=silent), S3Login("id", "secret"))
    with pytest.raises(Fault) as caught:
        host.size("index.html")
    assert caught.value.kind == "again"
    host.close()
