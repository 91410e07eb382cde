"""Servers on the loopback that the tests here talk to."""

from collections.abc import Iterator
from pathlib import Path

import paramiko
import pytest

from sitegen.publish.address import Address
from tests.publish.served import Web, make_certificate, serving
from tests.publish.sftp_rig import Rig, sftp_rig


@pytest.fixture(scope="session")
def certificate(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, Path]:
    return make_certificate(tmp_path_factory.mktemp("certificate"))


@pytest.fixture
def web(tmp_path: Path, certificate: tuple[Path, Path]) -> Iterator[Web]:
    """A folder that is served over HTTPS."""
    root = tmp_path / "site"
    with serving(root, certificate) as (base, habits):
        yield Web(root, Address(base, certificate[0]), habits)


@pytest.fixture(scope="session")
def host_key() -> paramiko.PKey:
    return paramiko.RSAKey.generate(2048)


@pytest.fixture
def sftp(host_key: paramiko.PKey) -> Iterator[Rig]:
    with sftp_rig(host_key) as rig:
        yield rig


@pytest.fixture(scope="session")
def s3_endpoint() -> Iterator[str]:
    """The S3 server of moto."""
    from moto.server import ThreadedMotoServer  # noqa: PLC0415 - seconds to load, and only where it is used

    server = ThreadedMotoServer(ip_address="127.0.0.1", port=0, verbose=False)
    server.start()
    host, port = server.get_host_and_port()
    yield f"http://{host}:{port}"
    server.stop()
