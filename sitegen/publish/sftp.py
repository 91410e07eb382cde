"""SFTP as a host, through paramiko: the server must prove itself by a pinned key before anything is sent."""

import logging
import stat
from collections.abc import Iterator
from contextlib import contextmanager
from io import BytesIO
from pathlib import Path
from socket import gaierror

import paramiko
from paramiko.ssh_exception import (
    AuthenticationException,
    NoValidConnectionsError,
    PasswordRequiredException,
    SSHException,
)

from sitegen.model.publish import Sftp
from sitegen.publish.credentials import SftpLogin
from sitegen.publish.fault import Fault, os_fault
from sitegen.publish.host import Entry, part

_SECONDS = 30
# Whatever paramiko has to say is said by our own faults; its log would go to the terminal.
logging.getLogger("paramiko").addHandler(logging.NullHandler())


class _Pinned(paramiko.MissingHostKeyPolicy):
    """Accepts a key by its fingerprint alone; it is asked after the key exchange and before any login."""

    def __init__(self, place: str, fingerprints: tuple[str, ...]) -> None:
        self.place = place
        self.fingerprints = fingerprints

    def missing_host_key(self, client: paramiko.SSHClient, hostname: str, key: paramiko.PKey) -> None:
        del client, hostname
        shown = key.fingerprint.rstrip("=")
        if shown not in self.fingerprints:
            raise Fault("host-key", self.place, shown)


class SftpHost:
    """Keeps files below a folder that must be there. Connects when asked, and anew when it was lost."""

    def __init__(self, target: Sftp, login: SftpLogin) -> None:
        self._target = target
        self._login = login
        self._ssh: paramiko.SSHClient | None = None
        self._sftp: paramiko.SFTPClient | None = None

    @property
    def place(self) -> str:
        aim = self._target
        return f"sftp://{aim.user}@{aim.host}:{aim.port}/{aim.path.strip('/')}"

    def size(self, path: str) -> int | None:
        with self._guarded(path) as sftp:
            try:
                return sftp.stat(self._full(path)).st_size
            except FileNotFoundError:
                return None

    def put_new(self, path: str, data: bytes) -> None:
        with self._guarded(path) as sftp:
            self._make_folders(sftp, path)
            beside = self._full(part(path))
            sftp.putfo(BytesIO(data), beside, len(data))
            sftp.posix_rename(beside, self._full(path))

    def replace(self, path: str, data: bytes) -> None:
        self.put_new(path, data)

    def read(self, path: str) -> bytes | None:
        with self._guarded(path) as sftp:
            try:
                with sftp.open(self._full(path), "rb") as file:
                    file.prefetch()
                    return file.read()
            except FileNotFoundError:
                return None

    def list(self, folder: str) -> tuple[Entry, ...]:
        with self._guarded(folder) as sftp:
            try:
                found = sftp.listdir_attr(self._full(folder))
            except FileNotFoundError:
                return ()
            files = [one for one in found if stat.S_ISREG(one.st_mode or 0)]
            return tuple(
                sorted((Entry(one.filename, one.st_size or 0) for one in files), key=lambda e: e.name)
            )

    def delete(self, path: str) -> None:
        with self._guarded(path) as sftp:
            try:
                sftp.remove(self._full(path))
            except FileNotFoundError:
                return

    def close(self) -> None:
        if self._ssh:
            self._ssh.close()
        self._ssh = self._sftp = None

    def _full(self, path: str) -> str:
        return f"{self._target.path.rstrip('/')}/{path}"

    def _make_folders(self, sftp: paramiko.SFTPClient, path: str) -> None:
        """Make the folders of *path* below the target's own, which nobody but the florist makes."""
        steps = path.split("/")[:-1]
        for count in range(1, len(steps) + 1):
            folder = self._full("/".join(steps[:count]))
            try:
                sftp.stat(folder)
            except FileNotFoundError:
                sftp.mkdir(folder)

    def _connected(self) -> paramiko.SFTPClient:
        if self._sftp is None:
            self._ssh = paramiko.SSHClient()
            self._ssh.set_missing_host_key_policy(_Pinned(self.place, self._target.fingerprints))
            self._log_in(self._ssh)
            sftp = self._ssh.open_sftp()
            channel = sftp.get_channel()
            if channel:
                channel.settimeout(_SECONDS)
            self._ready(sftp)
            self._sftp = sftp
        return self._sftp

    def _log_in(self, ssh: paramiko.SSHClient) -> None:
        login = self._login
        if login.key_file and not Path(login.key_file).is_file():
            raise Fault("denied", self.place, f"there is no key file {login.key_file}")
        own_keys = not (login.password or login.key_file)
        try:
            ssh.connect(
                self._target.host,
                self._target.port,
                self._target.user,
                login.password,
                key_filename=login.key_file,
                passphrase=login.passphrase,
                timeout=_SECONDS,
                banner_timeout=_SECONDS,
                auth_timeout=_SECONDS,
                allow_agent=own_keys,
                look_for_keys=own_keys,
            )
        except (SSHException, ValueError):
            if login.key_file and not _is_key(login.key_file, login.passphrase):
                raise Fault("denied", self.place, f"{login.key_file} is no private key that opens") from None
            raise

    def _ready(self, sftp: paramiko.SFTPClient) -> None:
        """Refuse a missing folder, and a server that cannot rename onto a file: by names nobody has."""
        try:
            sftp.stat(self._target.path)
        except FileNotFoundError:
            raise Fault("absent", self.place, self._target.path) from None
        nowhere = self._full(".sitegen-nowhere.part")
        try:
            sftp.posix_rename(nowhere, nowhere + "-either")
        except FileNotFoundError:
            return
        except OSError:
            self._may_write(sftp, nowhere)
            raise Fault("rename", self.place) from None

    def _may_write(self, sftp: paramiko.SFTPClient, nowhere: str) -> None:
        """Tell a server that is read-only from one that only lacks the rename."""
        try:
            sftp.remove(nowhere)
        except PermissionError:
            raise Fault("denied", self.place, "it is read-only") from None
        except OSError:
            return

    @contextmanager
    def _guarded(self, path: str) -> Iterator[paramiko.SFTPClient]:
        try:
            yield self._connected()
        except Exception as error:
            fault = error if isinstance(error, Fault) else _sorted(error, self.place, path)
            if fault and self._lost():
                fault = fault if self._sftp is None else Fault("again", self.place, f"{path}, no connection")
                self.close()
            if fault is None:
                raise
            raise fault from None

    def _lost(self) -> bool:
        transport = self._ssh.get_transport() if self._ssh else None
        return self._sftp is None or transport is None or not transport.is_active()


def _is_key(path: str, passphrase: str | None) -> bool:
    """Whether a private key can be read there; one that only lacks its right passphrase is a key."""
    try:
        paramiko.PKey.from_path(path, passphrase)
    except PasswordRequiredException:
        return True
    except (SSHException, ValueError, TypeError, paramiko.pkey.UnknownKeyType):
        return False
    return True


def _sorted(error: Exception, place: str, path: str) -> Fault | None:
    """Sort what paramiko raises; None for what is no outside fault."""
    match error:
        case AuthenticationException() | PasswordRequiredException():
            return Fault("denied", place, "the login was refused")
        case NoValidConnectionsError() | gaierror():
            return Fault("unreachable", place, "no connection")
        case SSHException() | EOFError() | TimeoutError():
            return Fault("again", place, f"{path}, the connection was lost")
        case OSError(errno=None):
            # All that SFTP says of a full disk, a limit or a strange file is "failure".
            full = "perhaps its disk is full or your quota is used up"
            return Fault("refused", place, f"{path} ({full})")
        case OSError():
            return os_fault(error, place, path)
    return None
