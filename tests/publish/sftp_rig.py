"""An SSH server in this process whose SFTP is the real OpenSSH `sftp-server`, through pipes. Loopback only."""

import os
import socket
import subprocess
import threading
from collections.abc import Iterator, Sequence
from contextlib import contextmanager, suppress
from dataclasses import dataclass, field
from typing import Any

import paramiko
import pytest
from paramiko.common import AUTH_FAILED, AUTH_SUCCESSFUL, OPEN_SUCCEEDED

PASSWORD = "planted-pass-phrase-7131"
USER = "florist"
_PLACES = (
    "/usr/lib/openssh/sftp-server",
    "/usr/libexec/openssh/sftp-server",
    "/usr/lib/ssh/sftp-server",
    "/usr/libexec/sftp-server",
)


def sftp_server() -> str:
    """Where OpenSSH's SFTP server is; without it the test is skipped, unless servers are required."""
    found = next((place for place in _PLACES if os.access(place, os.X_OK)), None)
    if found is None:
        assert os.environ.get("SITEGEN_SERVERS") != "required", "install openssh-sftp-server"
        pytest.skip("no OpenSSH sftp-server is installed")
    return found


@dataclass
class Rig:
    """The server's port, its key's fingerprint, and what it was asked."""

    port: int
    fingerprint: str
    logins: list[str] = field(default_factory=list)
    started: int = 0
    cut_after: int = 0  # hangs up once so many bytes have come in, this once
    stall: bool = False  # answers nothing
    received: int = 0


class _Interface(paramiko.ServerInterface):
    def __init__(self, rig: Rig) -> None:
        self.rig = rig

    def check_auth_password(self, username: str, password: str) -> int:
        self.rig.logins.append(username)
        return AUTH_SUCCESSFUL if (username, password) == (USER, PASSWORD) else AUTH_FAILED

    def get_allowed_auths(self, username: str) -> str:
        del username
        return "password"

    def check_channel_request(self, kind: str, chanid: int) -> int:
        del kind, chanid
        return OPEN_SUCCEEDED


def _piped(rig: Rig, command: Sequence[str]) -> type[paramiko.SubsystemHandler]:
    class Piped(paramiko.SubsystemHandler):
        def start_subsystem(
            self, name: str, transport: paramiko.Transport, channel: paramiko.Channel
        ) -> None:
            del name
            rig.started += 1
            with subprocess.Popen(
                command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, bufsize=0
            ) as process:
                assert process.stdin
                assert process.stdout
                answers = threading.Thread(target=self.answer, args=(process.stdout, channel), daemon=True)
                answers.start()
                with suppress(OSError):
                    while data := channel.recv(32_768):
                        rig.received += len(data)
                        if rig.cut_after and rig.received >= rig.cut_after:
                            rig.cut_after = 0
                            process.stdin.write(data[: len(data) // 2])
                            transport.close()
                            break
                        process.stdin.write(data)
                process.stdin.close()
                process.wait(10)
                answers.join(5)

        def answer(self, stdout: Any, channel: paramiko.Channel) -> None:
            with suppress(OSError):
                while data := stdout.read(32_768):
                    if not rig.stall:
                        channel.sendall(data)
            channel.close()

    return Piped


@contextmanager
def sftp_rig(key: paramiko.PKey, handler: Any = None, flags: Sequence[str] = ()) -> Iterator[Rig]:
    """Listen with *key*; *flags* go to `sftp-server`, or *handler* takes its place."""
    listener = socket.create_server(("127.0.0.1", 0))
    rig = Rig(listener.getsockname()[1], key.fingerprint)
    subsystem = handler or _piped(rig, [sftp_server(), "-e", "-l", "QUIET", *flags])
    transports: list[paramiko.Transport] = []

    def accept() -> None:
        with suppress(OSError):
            while True:
                connection, _ = listener.accept()
                transport = paramiko.Transport(connection)
                transports.append(transport)
                transport.add_server_key(key)
                if handler:
                    transport.set_subsystem_handler("sftp", paramiko.SFTPServer, handler)
                else:
                    transport.set_subsystem_handler("sftp", subsystem)
                # A client that hangs up at once must not end the listening for those after it.
                with suppress(paramiko.SSHException, EOFError, OSError):
                    transport.start_server(server=_Interface(rig))

    thread = threading.Thread(target=accept, daemon=True)
    thread.start()
    try:
        yield rig
    finally:
        listener.shutdown(socket.SHUT_RDWR)
        listener.close()
        for transport in transports:
            transport.close()
        thread.join(5)
